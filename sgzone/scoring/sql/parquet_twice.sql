-- Rounds in which the same stroke stands twice.
SELECT player, date, round
FROM parquet_strokes
GROUP BY player, date, round
HAVING count(*) > {once}
ORDER BY player, date, round
