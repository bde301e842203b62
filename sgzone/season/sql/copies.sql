-- Rounds of this file whose every hole another player has stroke by stroke as well, on the same
-- day, in this file or in the season file.
CREATE OR REPLACE TEMP TABLE copies AS
WITH
here AS (
    SELECT
        player, date, round, hole,
        min(source_row) AS source_row,
        count(*) AS n,
        string_agg(concat_ws(' ', shot, lie, distance_ft, penalty), '|' ORDER BY shot, source_row)
            AS strokes_text
    FROM staged
    WHERE NOT bad_key
    GROUP BY player, date, round, hole
),
there AS (
    SELECT
        player, date, round, hole,
        NULL::INTEGER AS source_row,
        string_agg(concat_ws(' ', shot, lie, distance_ft, penalty), '|' ORDER BY shot)
            AS strokes_text
    FROM strokes
    WHERE (date, round) IN (SELECT (date, round) FROM here)
      AND (player, date, round) NOT IN (SELECT (player, date, round) FROM here)
    GROUP BY player, date, round, hole
),
others AS (
    SELECT player, date, round, hole, source_row, strokes_text FROM here
    UNION ALL
    SELECT player, date, round, hole, source_row, strokes_text FROM there
)
SELECT
    min(here.source_row) AS source_row,
    here.player,
    others.player AS other,
    min(others.source_row) AS other_row,
    sum(here.n)::INTEGER AS n
FROM here
JOIN others
    ON here.date = others.date AND here.round = others.round AND here.hole = others.hole
    AND here.player <> others.player
GROUP BY here.player, others.player, here.date, here.round
HAVING bool_and(here.strokes_text = others.strokes_text)
   AND sum(here.n) >= $least
   AND coalesce(min(others.source_row) < min(here.source_row), TRUE)
ORDER BY 1;
