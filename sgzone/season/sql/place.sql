-- How far the ball lay from the hole and where a finish of the row's own puts it, in feet, and
-- whether the keys of a row could be read. From `rows_read`, in file order: strokes of one line of
-- a text card share its number.
SELECT
    distance_unit,
    round(CASE distance_unit
        WHEN 'ft' THEN distance_value
        WHEN 'yd' THEN distance_value * $ft_per_yd
        WHEN 'm' THEN distance_value / $m_per_ft
    END, $ft_decimals) AS distance_ft,
    to_unit,
    CASE WHEN to_lie = 'holed' OR to_value = 0 THEN 'holed' ELSE to_lie END AS to_end,
    CASE
        WHEN to_value = 0 OR (to_lie = 'holed' AND to_value IS NULL) THEN 0
        ELSE round(CASE to_unit
            WHEN 'ft' THEN to_value
            WHEN 'yd' THEN to_value * $ft_per_yd
            WHEN 'm' THEN to_value / $m_per_ft
        END, $ft_decimals)
    END AS to_ft,
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
        END AS distance_unit,
        CASE
            WHEN to_written_unit IS NOT NULL THEN to_written_unit
            WHEN list_contains($feet_lies, to_lie) THEN 'ft'
            WHEN list_contains($yard_lies, to_lie) THEN 'yd'
            WHEN cell_unit IS NOT NULL THEN unit
        END AS to_unit
    FROM rows_read
)
ORDER BY position
