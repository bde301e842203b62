-- How many rounds, holes and strokes do not belong together, from the round $first on: a key or a
-- round that is there twice, a hole or a stroke of no round, a round of other holes and strokes than
-- it says.
WITH
some_rounds AS (SELECT * FROM rounds WHERE round_key >= $first),
some_holes AS (SELECT * FROM holes WHERE round_key >= $first),
some_strokes AS (SELECT * FROM strokes WHERE round_key >= $first)
SELECT
    (SELECT count(*) - count(DISTINCT round_key) FROM some_rounds)
    + (
        SELECT count(*)
        FROM (SELECT 1 FROM some_rounds GROUP BY player, date, round HAVING count(*) > 1)
    )
    + (SELECT count(*) FROM some_rounds ANTI JOIN loads USING (load_id))
    + (
        SELECT count(*)
        FROM some_rounds AS r
        LEFT JOIN (SELECT round_key, count(*) AS n FROM some_holes GROUP BY round_key) AS h
            ON r.round_key = h.round_key
        LEFT JOIN (
            SELECT round_key, count(*) FILTER (WHERE played) AS n
            FROM some_strokes GROUP BY round_key
        ) AS s ON r.round_key = s.round_key
        WHERE r.holes IS DISTINCT FROM h.n OR r.strokes IS DISTINCT FROM s.n
    ) AS rounds,
    (SELECT count(*) - count(DISTINCT hole_key) FROM some_holes)
    + (SELECT count(*) FROM some_holes ANTI JOIN rounds USING (round_key)) AS holes,
    (SELECT count(*) FROM some_strokes ANTI JOIN some_holes USING (hole_key, round_key, hole))
    + (
        SELECT count(*)
        FROM some_strokes ANTI JOIN some_rounds USING (round_key, load_id, player, date, round)
    ) AS strokes
