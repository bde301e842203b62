-- Every putt on a hole of which nobody wrote how it ended, from the staged rows: its round, how far
-- it was, and whether it counts as holed since no row follows it.
SELECT
    round_no,
    distance_ft,
    next_row IS NULL AND result IS NOT DISTINCT FROM 'holed' AS counted
FROM staged
SEMI JOIN (
    SELECT hole_no
    FROM staged
    WHERE next_row IS NULL
        AND NOT bad_key
        AND (cell_result IS NULL OR result IN ('conceded', 'picked_up'))
        AND cell_to_lie IS NULL
        AND cell_to_distance IS NULL
) AS untold USING (hole_no)
WHERE lie = 'green' AND played AND distance_ft > 0 AND NOT bad_key
