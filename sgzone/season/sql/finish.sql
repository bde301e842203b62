-- The rows of a card as the rules and the season file see them: how each stroke ended, and where
-- its depth and side put the ball. A stroke ends where the next row of the hole starts; the last one
-- where its own row says, else in the hole. From `rows_in_order`. Nothing is worked out before it is
-- asked for.
WITH
ended AS (
    SELECT
        * EXCLUDE (result),
        CASE
            WHEN next_row IS NOT NULL OR cell_result IS NOT NULL THEN result
            WHEN cell_to_lie IS NULL AND cell_to_distance IS NULL THEN 'holed'
            WHEN to_end = 'holed' THEN 'holed'
        END AS result
    FROM rows_in_order
),
finished AS (
    SELECT
        *,
        result IS NULL OR result = 'holed' AS played,
        CASE
            WHEN next_row IS NULL AND result = 'holed' THEN 'holed'
            WHEN next_row IS NULL AND result IS NULL THEN to_end
            WHEN next_distance_ft IS NOT NULL THEN next_lie
        END AS end_lie,
        CASE
            WHEN next_row IS NULL AND result = 'holed' THEN 0
            WHEN next_row IS NULL AND result IS NULL THEN to_ft
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
