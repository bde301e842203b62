-- Rounds of this file whose every hole another player has stroke by stroke as well, on the same
-- day, in this file or in the season file. Holes are compared by a hash of their strokes, and
-- only rounds that share a hole are looked at whole: a day may have hundreds of players.
CREATE OR REPLACE TEMP TABLE copies AS
WITH
here AS (
    SELECT
        player, date, round, hole,
        min(source_row) AS source_row,
        count(*) AS n,
        sum(hash(shot, lie, distance_ft, penalty)) AS print
    FROM staged
    WHERE NOT bad_key
    GROUP BY player, date, round, hole
),
whole AS (
    SELECT player, date, round, sum(n) AS strokes FROM here GROUP BY player, date, round
),
there AS (
    SELECT
        player, date, round, hole,
        NULL::INTEGER AS source_row,
        sum(hash(shot, lie, distance_ft, penalty)) AS print
    FROM strokes
    WHERE (date, round) IN (SELECT (date, round) FROM whole)
      AND (player, date, round) NOT IN (SELECT (player, date, round) FROM whole)
    GROUP BY player, date, round, hole
),
others AS (
    SELECT player, date, round, hole, source_row, print FROM here
    UNION ALL
    SELECT player, date, round, hole, source_row, print FROM there
),
alike AS (
    SELECT DISTINCT here.player, others.player AS other, here.date, here.round, whole.strokes
    FROM here
    JOIN whole  -- many players may share a hole of one stroke
        ON whole.player = here.player AND whole.date = here.date AND whole.round = here.round
        AND whole.strokes >= $least
    JOIN others
        ON here.date = others.date AND here.round = others.round AND here.hole = others.hole
        AND here.print = others.print AND here.player <> others.player
)
SELECT
    min(here.source_row) AS source_row,
    here.player,
    others.player AS other,
    min(others.source_row) AS other_row,
    sum(here.n)::INTEGER AS n
FROM alike
JOIN here
    ON here.player = alike.player AND here.date = alike.date AND here.round = alike.round
JOIN others
    ON others.player = alike.other AND others.date = here.date AND others.round = here.round
    AND others.hole = here.hole
GROUP BY here.player, others.player, here.date, here.round
HAVING bool_and(here.print = others.print)
   AND sum(here.n) = min(alike.strokes)  -- not of the holes alone that both have
   AND coalesce(min(others.source_row) < min(here.source_row), TRUE)
QUALIFY row_number() OVER (
    PARTITION BY here.player, here.date, here.round
    ORDER BY min(others.source_row), others.player
) = 1
ORDER BY 1;
