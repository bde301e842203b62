-- How far the ball lay from the hole, in feet, and whether the keys of a row could be read. From
-- `rows_read`, in file order: strokes of one line of a text card share its number.
SELECT
    distance_unit,
    round(CASE distance_unit
        WHEN 'ft' THEN distance_value
        WHEN 'yd' THEN distance_value * $ft_per_yd
        WHEN 'm' THEN distance_value / $m_per_ft
    END, $ft_decimals) AS distance_ft,
    broken OR player IS NULL OR date IS NULL OR round IS NULL OR hole IS NULL OR shot IS NULL
        AS bad_key
FROM (
    SELECT
        *,
        CASE
            WHEN written_unit IS NOT NULL THEN written_unit
            WHEN cell_unit IS NOT NULL THEN unit
            WHEN list_contains($feet_lies, lie) THEN 'ft'
            WHEN list_contains($yard_lies, lie) THEN 'yd'
        END AS distance_unit
    FROM rows_read
)
ORDER BY position
