-- All strokes that are listed: the zone's, and what follows them outside it.
SELECT * FROM parquet_strokes WHERE played AND (distance_ft <= $zone_ft OR entered)
