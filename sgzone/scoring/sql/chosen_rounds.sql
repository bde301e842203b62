-- The rounds the question is about.
SELECT round_key, player, date, round, holes, course, event
FROM rounds
WHERE ($player IS NULL OR player = $player)
  AND ($since IS NULL OR date >= $since)
  AND ($until IS NULL OR date <= $until)
  AND ($event IS NULL OR event = $event)
