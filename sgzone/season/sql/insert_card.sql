-- The rounds of `fresh` (staged rows to be loaded) into the season file, whole holes only. Its rows
-- stand in the order of play, with `round_no` and `hole_no` counting up: what is near together is
-- stored near together without being sorted once more. Nothing relies on that.
CREATE OR REPLACE TEMP TABLE fresh_rounds AS
SELECT
    nextval('round_keys') AS round_key, *
FROM (
    SELECT
        round_no,
        first(player) AS player,
        first(date) AS date,
        first(round) AS round,
        (count(*) FILTER (WHERE prev_row IS NULL))::INTEGER AS holes,
        (count(*) FILTER (WHERE played))::INTEGER AS strokes,
        arg_min(course, hole * 100 + shot) AS course,
        arg_min(event, hole * 100 + shot) AS event,
        arg_min(format, hole * 100 + shot) AS format
    FROM fresh
    GROUP BY round_no
    ORDER BY round_no
);

INSERT INTO rounds
SELECT round_key, $load_id, player, date, round, holes, strokes, course, event, format
FROM fresh_rounds;

CREATE OR REPLACE TEMP TABLE fresh_holes AS
SELECT
    nextval('hole_keys') AS hole_key, *
FROM (
    SELECT
        hole_no,
        first(round_no) AS round_no,
        first(hole) AS hole,
        arg_min(par, shot) AS par,
        first(result) FILTER (WHERE next_row IS NULL) AS ending,
        first(lie) FILTER (WHERE next_row IS NULL AND NOT played) AS last_lie,
        first(distance_ft) FILTER (WHERE next_row IS NULL AND NOT played) AS last_distance_ft
    FROM fresh
    GROUP BY hole_no
    ORDER BY hole_no
);

INSERT INTO holes
SELECT hole_key, round_key, fresh_holes.hole, par, ending, last_lie, last_distance_ft
FROM fresh_holes
JOIN fresh_rounds USING (round_no)
ORDER BY hole_key;

INSERT INTO strokes BY NAME
SELECT
    $load_id AS load_id,
    fresh.* EXCLUDE (end_ft, round_no, hole_no, prev_row, next_row),
    fresh.end_ft AS end_distance_ft,
    list_position($lies, fresh.lie) * $lie_step + floor(fresh.distance_ft)::INTEGER AS start_cell,
    list_position($lies, fresh.end_lie) * $lie_step + floor(fresh.end_ft)::INTEGER AS end_cell,
    keys.round_key,
    keys.hole_key
FROM fresh
JOIN (
    SELECT hole_no, hole_key, round_key
    FROM fresh_holes
    JOIN fresh_rounds USING (round_no)
) keys USING (hole_no);
