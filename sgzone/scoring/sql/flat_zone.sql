-- Strokes that start in the zone.
SELECT * FROM flat_strokes WHERE distance_ft <= $zone_ft
