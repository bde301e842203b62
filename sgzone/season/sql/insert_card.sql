-- The rounds of `fresh` (staged rows to be loaded) into the season file, whole holes only.
INSERT INTO rounds
SELECT
    nextval('round_keys'), $load_id, player, date, round, holes, strokes, course, event, format
FROM (
    SELECT
        player, date, round,
        count(DISTINCT hole)::INTEGER AS holes,
        count(*) FILTER (WHERE played)::INTEGER AS strokes,
        arg_min(course, (hole, shot)) FILTER (WHERE course IS NOT NULL) AS course,
        arg_min(event, (hole, shot)) FILTER (WHERE event IS NOT NULL) AS event,
        arg_min(format, (hole, shot)) FILTER (WHERE format IS NOT NULL) AS format
    FROM fresh
    GROUP BY player, date, round
    ORDER BY player, date, round
);

CREATE OR REPLACE TEMP TABLE fresh_holes AS
SELECT
    nextval('hole_keys') AS hole_key, *
FROM (
    SELECT
        rounds.round_key, fresh.player, fresh.date, fresh.round, fresh.hole,
        arg_min(fresh.par, fresh.shot) FILTER (WHERE fresh.par IS NOT NULL) AS par,
        arg_max(fresh.result, fresh.shot) AS ending,
        arg_max(CASE WHEN NOT fresh.played THEN fresh.lie END, fresh.shot)
            AS last_lie,
        arg_max(CASE WHEN NOT fresh.played THEN fresh.distance_ft END, fresh.shot)
            AS last_distance_ft
    FROM fresh
    JOIN rounds USING (player, date, round)
    GROUP BY ALL
    ORDER BY fresh.player, fresh.date, fresh.round, fresh.hole
);

INSERT INTO holes
SELECT hole_key, round_key, hole, par, ending, last_lie, last_distance_ft
FROM fresh_holes;

INSERT INTO strokes BY NAME
SELECT
    $load_id AS load_id,
    fresh.* EXCLUDE (end_ft),
    fresh.end_ft AS end_distance_ft,
    list_position($lies, fresh.lie) * $lie_step + floor(fresh.distance_ft)::INTEGER AS start_cell,
    list_position($lies, fresh.end_lie) * $lie_step + floor(fresh.end_ft)::INTEGER AS end_cell,
    fresh_holes.round_key,
    fresh_holes.hole_key
FROM fresh
JOIN fresh_holes USING (player, date, round, hole)
ORDER BY player, date, round, hole, shot;
