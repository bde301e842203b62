-- Every putt on a hole of which nobody wrote how it ended, from the rows of a card: its round, how
-- far it was, and whether it counts as holed since no row follows it. Asked of the rows before their
-- finishes are worked out, which takes longer than the rest: on these holes no finish was written.
SELECT round_no, distance_ft, next_row IS NULL AS counted
FROM rows_in_order
SEMI JOIN (
    SELECT hole_no
    FROM rows_in_order
    WHERE next_row IS NULL
        AND NOT bad_key
        AND (cell_result IS NULL OR result IN ('conceded', 'picked_up'))
        AND cell_to_lie IS NULL
        AND cell_to_distance IS NULL
) AS untold USING (hole_no)
WHERE lie = 'green'
    AND (result IS NULL OR result = 'holed')
    AND distance_ft > 0
    AND NOT bad_key
