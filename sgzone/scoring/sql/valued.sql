-- Expected strokes before and after, by the cubic cell that holds the distance. LEFT joins: a lie
-- the benchmark lacks leaves the value empty and the stroke in place.
SELECT
    s.*,
    b.part,
    b.band,
    b.c0 + (s.distance_ft - b.x0) * (b.c1 + (s.distance_ft - b.x0)
        * (b.c2 + (s.distance_ft - b.x0) * b.c3)) AS expected_before,
    e.c0 + (s.end_distance_ft - e.x0) * (e.c1 + (s.end_distance_ft - e.x0)
        * (e.c2 + (s.end_distance_ft - e.x0) * e.c3)) AS expected_after
FROM {starts} AS s
LEFT JOIN {curve} AS b
    ON b.lie = s.lie
    AND b.cell = CAST(FLOOR(s.distance_ft) AS INTEGER)
    AND s.distance_ft >= b.x_lo
    AND s.distance_ft < b.x_hi
LEFT JOIN {curve} AS e
    ON e.lie = s.end_lie
    AND e.cell = CAST(FLOOR(s.end_distance_ft) AS INTEGER)
    AND s.end_distance_ft >= e.x_lo
    AND s.end_distance_ft < e.x_hi
