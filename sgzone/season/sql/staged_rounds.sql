-- Whose the staged rounds are and where each starts in the file, in the order of their numbers.
SELECT
    first(player) AS player,
    strftime(first(date), '%Y-%m-%d') AS date,
    first(round) AS round,
    min(source_row) AS source_row
FROM staged
WHERE NOT bad_key
GROUP BY round_no
ORDER BY round_no
