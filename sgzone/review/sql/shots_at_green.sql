-- Every stroke of the zone from off the green whose next place is known.
SELECT
    s.player,
    round_place AS round_key,
    s.lie,
    s.club,
    s.distance_ft,
    s.end_lie IN ('green', 'holed') AS hit,
    s.end_distance_ft,
    s.depth_ft
FROM strokes AS s
JOIN chosen_rounds USING (round_key)
WHERE s.played AND s.lie <> 'green' AND s.distance_ft <= $zone_ft AND s.end_lie IS NOT NULL
ORDER BY round_place, s.hole, s.shot
