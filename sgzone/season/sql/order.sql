-- Each row beside its neighbours: in the hole, in the round, in the file. The windows run over
-- the few columns they need, and those that can only find fault over the rows that may have one;
-- the wide rows are joined to them afterwards.
WITH
-- rows whose keys could not be read stand between others: only in a file that has some
file_order AS (
    SELECT
        source_row,
        sum(bad_key::INTEGER) OVER file_rows AS bad_before,
        coalesce(lag(bad_key) OVER file_rows, FALSE) OR coalesce(lead(bad_key) OVER file_rows, FALSE)
            AS beside_bad
    FROM placed
    WHERE EXISTS (SELECT 1 FROM placed WHERE bad_key)
    WINDOW file_rows AS (ORDER BY source_row)
),
-- what differs within a round or a hole: only in the rounds where something does
mixed_rounds AS (
    SELECT DISTINCT bad_key, player, date, round
    FROM placed
    GROUP BY GROUPING SETS (
        (bad_key, player, date, round),
        (bad_key, player, date, round, hole)
    )
    HAVING (grouping(hole) = 1 AND (min(event) <> max(event) OR min(course) <> max(course)))
        OR (grouping(hole) = 0 AND min(par) <> max(par))
),
differing AS (
    SELECT
        source_row,
        lag(par IGNORE NULLS) OVER hole_rows AS prev_par,
        lag(event IGNORE NULLS) OVER round_rows AS prev_event,
        lag(course IGNORE NULLS) OVER round_rows AS prev_course
    FROM placed
    WHERE (bad_key, player, date, round) IN (FROM mixed_rounds)
    WINDOW
        hole_rows AS (PARTITION BY bad_key, player, date, round, hole ORDER BY shot, source_row),
        round_rows AS (PARTITION BY bad_key, player, date, round ORDER BY hole, shot, source_row)
),
counted AS (
    SELECT
        source_row, bad_key, player, date, round, hole, shot, lie, distance_ft, penalty,
        coalesce(bad_before, 0) AS bad_before,
        coalesce(beside_bad, FALSE) AS beside_bad,
        prev_par, prev_event, prev_course
    FROM placed
    LEFT JOIN file_order USING (source_row)
    LEFT JOIN differing USING (source_row)
),
neighbours AS (
    SELECT
        source_row,
        bad_before,
        beside_bad,
        prev_par,
        prev_event,
        prev_course,
        lag(source_row) OVER hole_rows AS prev_row,
        lag(shot) OVER hole_rows AS prev_shot,
        lag(lie) OVER hole_rows AS prev_lie,
        lag(penalty) OVER hole_rows AS prev_penalty,
        lag(bad_before) OVER hole_rows AS prev_bad_before,
        lead(source_row) OVER hole_rows AS next_row,
        lead(shot) OVER hole_rows AS next_shot,
        lead(lie) OVER hole_rows AS next_lie,
        lead(distance_ft) OVER hole_rows AS next_distance_ft
    FROM counted
    WINDOW
        hole_rows AS (PARTITION BY bad_key, player, date, round, hole ORDER BY shot, source_row)
),
ended AS (
    SELECT
        placed.* EXCLUDE (result),
        neighbours.* EXCLUDE (source_row),
        CASE WHEN next_row IS NULL AND cell_result IS NULL THEN 'holed' ELSE result END AS result
    FROM placed
    JOIN neighbours USING (source_row)
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
