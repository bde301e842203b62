-- The rounds the question is about and how many holes each has, a hole without a stroke too.
SELECT player, date, round, COUNT(DISTINCT hole) AS holes
FROM parquet_strokes
GROUP BY player, date, round
