-- Everybody of whom the season file has a round, a practice entry, a test block or a club.
SELECT player FROM rounds
UNION
SELECT player FROM practice_log
UNION
SELECT player FROM test_balls
UNION
SELECT player FROM bag
ORDER BY player
