-- The rounds of `fresh` (staged rows to be loaded) into the season file, whole holes only. Its rows
-- stand in the order of play, with `round_no` and `hole_no` counting up: what is near together is
-- stored near together without being sorted once more. Nothing relies on that.
INSERT INTO rounds
SELECT
    $next_round + round_no AS round_key,
    $load_id AS load_id,
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
ORDER BY round_no;

INSERT INTO holes
SELECT
    $next_hole + hole_no AS hole_key,
    $next_round + first(round_no) AS round_key,
    first(hole) AS hole,
    arg_min(par, shot) AS par,
    coalesce(first(result) FILTER (WHERE next_row IS NULL), 'open') AS ending,
    first(CASE WHEN NOT played THEN lie WHEN result IS NULL THEN end_lie END)
        FILTER (WHERE next_row IS NULL) AS last_lie,
    first(CASE WHEN NOT played THEN distance_ft WHEN result IS NULL THEN end_ft END)
        FILTER (WHERE next_row IS NULL) AS last_distance_ft
FROM fresh
GROUP BY hole_no
ORDER BY hole_no;

INSERT INTO strokes BY NAME
SELECT
    $load_id AS load_id,
    fresh.* EXCLUDE (end_ft, round_no, hole_no, prev_row, next_row),
    end_ft AS end_distance_ft,
    list_position($lies, lie) * $lie_step + floor(distance_ft)::INTEGER AS start_cell,
    list_position($lies, end_lie) * $lie_step + floor(end_ft)::INTEGER AS end_cell,
    $next_round + round_no AS round_key,
    $next_hole + hole_no AS hole_key
FROM fresh;
