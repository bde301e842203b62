-- What was written in the card's column `note`, with its stroke, in yards.
SELECT s.player, s.date, s.round, s.hole, s.shot, s.lie, s.distance_ft / 3 AS distance_yd, s.note
FROM strokes AS s
WHERE s.note IS NOT NULL
  AND ($player IS NULL OR s.player = $player)
  AND ($since IS NULL OR s.date >= $since)
  AND ($until IS NULL OR s.date <= $until)
  AND ($event IS NULL OR s.event = $event)
ORDER BY s.player, s.date, s.round, s.hole, s.shot
