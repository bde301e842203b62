-- What is in the file: the rounds of a selection, each with the file it came from.
SELECT player, date, round, holes, strokes, course, event, file_name AS file
FROM rounds
JOIN loads USING (load_id)
WHERE ($player IS NULL OR player = $player)
  AND ($since IS NULL OR date >= $since)
  AND ($until IS NULL OR date <= $until)
  AND ($event IS NULL OR event = $event)
ORDER BY player, date, round
