-- All strokes that are listed: the zone's, and what follows them outside it.
SELECT * FROM zone_starts
UNION ALL
SELECT * FROM outside_starts
