-- Where a finish of the row's own puts the ball: on what lie and how far from the hole, in feet.
-- From `rows_read`, in file order.
SELECT
    to_unit,
    CASE WHEN to_lie = 'holed' OR to_value = 0 THEN 'holed' ELSE to_lie END AS to_end,
    CASE
        WHEN to_value = 0 OR (to_lie = 'holed' AND to_value IS NULL) THEN 0
        ELSE round(CASE to_unit
            WHEN 'ft' THEN to_value
            WHEN 'yd' THEN to_value * $ft_per_yd
            WHEN 'm' THEN to_value / $m_per_ft
        END, $ft_decimals)
    END AS to_ft
FROM (
    SELECT
        *,
        CASE
            WHEN to_written_unit IS NOT NULL THEN to_written_unit
            WHEN list_contains($feet_lies, to_lie) THEN 'ft'
            WHEN list_contains($yard_lies, to_lie) THEN 'yd'
            WHEN cell_unit IS NOT NULL THEN unit
        END AS to_unit
    FROM rows_read
)
ORDER BY position
