-- Everybody of whom the season file has a round, a practice entry, a test block, a club or an
-- agreement.
SELECT player FROM rounds
UNION
SELECT player FROM practice_log
UNION
SELECT player FROM test_balls
UNION
SELECT player FROM bag
UNION
SELECT player FROM agreements
ORDER BY player
