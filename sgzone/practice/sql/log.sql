-- The log of the chosen player and days.
SELECT date, part, minutes, balls, player
FROM practice_log
WHERE ($player IS NULL OR player = $player)
  AND ($since IS NULL OR date >= $since)
  AND ($until IS NULL OR date <= $until)
ORDER BY date, part, source_row
