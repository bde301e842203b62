-- The strokes with what other tables and other rows say of them, so that each row can be valued by
-- itself wherever it is kept. entered: an earlier stroke of the hole started in the zone.
SELECT
    s.* EXCLUDE (load_id, source_row, round_key, hole_key, note, extra, start_cell, end_cell),
    r.event AS round_event,
    coalesce(s.shot > entered.first_shot, FALSE) AS entered
FROM strokes AS s
JOIN rounds AS r USING (round_key)
LEFT JOIN (
    SELECT hole_key, min(shot) AS first_shot
    FROM strokes
    WHERE distance_ft <= $zone_ft
    GROUP BY hole_key
) AS entered USING (hole_key)
ORDER BY s.player, s.date, s.round, s.hole, s.shot
