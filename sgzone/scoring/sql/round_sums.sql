-- Per cell and round: how many scored strokes of the zone, their sum and their squares. fsum: a
-- plain SUM of doubles differs from run to run in the last digits.
SELECT
    {by}
    player,
    round_key,
    COUNT(gained) AS n,
    FSUM(gained) AS total,
    FSUM(gained * gained) AS squares,
    COUNT(*) - COUNT(gained) AS unscored
FROM (SELECT *, strftime(date, '%Y-%m') AS month FROM gained)
GROUP BY ALL
ORDER BY ALL
