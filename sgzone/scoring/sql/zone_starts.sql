-- Strokes that start in the zone. The end state stands on the row, set at load: filtering here
-- cannot pair a stroke with the wrong next one.
SELECT s.*, round_place
FROM strokes AS s
JOIN {rounds} USING (round_key)
WHERE s.played AND s.distance_ft <= $zone_ft
