-- Per cell and round: how many scored strokes of the zone, their sum and their squares. The sum is
-- an exact one where the engine has it; a plain SUM of doubles differs from run to run in the last
-- digits.
SELECT
    {keys},
    COUNT(gained) AS n,
    {sum}(gained) AS total,
    {sum}(gained * gained) AS squares,
    COUNT(*) - COUNT(gained) AS unscored,
    COUNT(CASE WHEN gained IS NULL AND end_lie IS NOT NULL THEN 1 END) AS unvalued
    {more}
FROM (SELECT *, {month} FROM gained)
GROUP BY ALL
