-- When each player last agreed on something.
SELECT player, max(day) AS day
FROM agreements
GROUP BY player
ORDER BY player
