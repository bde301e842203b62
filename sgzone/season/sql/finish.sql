-- The rows of a card as the rules and the season file see them: how each stroke ended, and where
-- its depth and side put the ball. From `rows_in_order`. Nothing is worked out before it is asked
-- for.
WITH
ended AS (
    SELECT
        * EXCLUDE (result),
        CASE WHEN next_row IS NULL AND cell_result IS NULL THEN 'holed' ELSE result END AS result
    FROM rows_in_order
),
finished AS (
    SELECT
        *,
        result IS NULL OR result = 'holed' AS played,
        CASE
            WHEN next_row IS NULL AND result = 'holed' THEN 'holed'
            WHEN next_distance_ft IS NOT NULL THEN next_lie
        END AS end_lie,
        CASE
            WHEN next_row IS NULL AND result = 'holed' THEN 0
            WHEN next_lie IS NOT NULL THEN next_distance_ft
        END AS end_ft,
        CASE
            WHEN depth_ft IS NOT NULL AND side_ft IS NOT NULL THEN sqrt(depth_ft ^ 2 + side_ft ^ 2)
            ELSE greatest(abs(depth_ft), abs(side_ft))
        END AS finish_ft
    FROM ended
)
SELECT
    *,
    CASE
        WHEN depth_ft IS NOT NULL AND side_ft IS NOT NULL THEN abs(finish_ft - end_ft)
        ELSE finish_ft - end_ft
    END AS finish_gap_ft,
    greatest($finish_slack_ft, $finish_slack_share * greatest(finish_ft, end_ft)) AS finish_slack_ft
FROM finished
