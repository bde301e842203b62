-- The rounds the question is about, each with its place in their order.
SELECT round_key, player, date, round, holes, course, event,
    CAST(ROW_NUMBER() OVER (ORDER BY player, round_key) AS INTEGER) AS round_place
FROM rounds
WHERE ($player IS NULL OR player = $player)
  AND ($since IS NULL OR date >= $since)
  AND ($until IS NULL OR date <= $until)
  AND ($event IS NULL OR event = $event)
