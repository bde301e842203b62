-- Expected strokes before and after, by the cubic cell that holds the distance. LEFT joins: a lie
-- the benchmark lacks leaves the value empty and the stroke in place.
SELECT
    s.*,
    b.part,
    b.band,
    b.part_code,
    b.band_code,
    b.lie_code,
    b.c0 + (s.distance_ft - b.x0) * (b.c1 + (s.distance_ft - b.x0)
        * (b.c2 + (s.distance_ft - b.x0) * b.c3)) AS expected_before,
    e.c0 + (s.end_distance_ft - e.x0) * (e.c1 + (s.end_distance_ft - e.x0)
        * (e.c2 + (s.end_distance_ft - e.x0) * e.c3)) AS expected_after
FROM {starts} AS s
LEFT JOIN {curve} AS b
    ON {start_here}
    AND s.distance_ft >= b.x_lo
    AND s.distance_ft < b.x_hi
LEFT JOIN {curve} AS e
    ON {end_here}
    AND s.end_distance_ft >= e.x_lo
    AND s.end_distance_ft < e.x_hi
