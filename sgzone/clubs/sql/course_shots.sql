-- Strokes with a club on the course, from full shots down to pitches: no chips, putts, blocked balls.
SELECT
    'course' AS source,
    s.club,
    COALESCE(s.swing, '') AS swing,
    s.date,
    r.round_place AS round_key,
    NULL AS block,
    s.lie,
    s.distance_ft / 3.0 AS target_yd,
    COALESCE(s.effective_yd, s.distance_ft / 3.0) AS number_yd,
    s.intended_yd AS meant_yd,
    s.carry_yd,
    s.depth_ft,
    s.side_ft,
    s.launch_deg,
    s.spin_rpm,
    s.face,
    s.turf,
    s.green_firmness AS firmness
FROM strokes AS s
-- numbered by player, date and round, whatever the order of loading was
JOIN (
    SELECT *, ROW_NUMBER() OVER (ORDER BY player, date, round) AS round_place FROM rounds
) AS r USING (round_key)
WHERE s.played AND s.club IS NOT NULL
  AND list_contains($lies, s.lie)
  AND s.distance_ft BETWEEN $from_ft AND $to_ft
  AND ($player IS NULL OR r.player = $player)
  AND ($since IS NULL OR r.date >= $since)
  AND ($until IS NULL OR r.date <= $until)
  AND ($event IS NULL OR r.event = $event)
ORDER BY s.date, s.round, s.hole, s.shot
