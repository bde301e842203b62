-- The agreements of one player or all, in the order they were made.
SELECT agreement, player, day, text, part, measure, from_ft, to_ft, target, due, closed
FROM agreements
WHERE $player IS NULL OR player = $player
ORDER BY player, day, agreement
