-- The rounds the question is about, each with its place among all rounds of the file by player, date
-- and round: the keys of a file follow the order of loading, and sums in that order would differ in
-- the last digits.
SELECT round_key, player, date, round, holes, strokes, course, event, round_place
FROM (
    SELECT *, ROW_NUMBER() OVER (ORDER BY player, date, round) AS round_place
    FROM rounds
) AS numbered
WHERE ($player IS NULL OR player = $player)
  AND ($since IS NULL OR date >= $since)
  AND ($until IS NULL OR date <= $until)
  AND ($event IS NULL OR event = $event)
