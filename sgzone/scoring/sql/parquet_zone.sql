-- Strokes that start in the zone.
SELECT * FROM parquet_strokes WHERE played AND distance_ft <= $zone_ft
