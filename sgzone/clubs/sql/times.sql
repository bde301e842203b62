-- When each club of the bag table came into play and went out of it.
SELECT player, club, in_play_from, in_play_to
FROM bag
WHERE $player IS NULL OR player = $player
ORDER BY club, player, in_play_from
