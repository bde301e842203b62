-- The bounce of each club and when it was in play, by the bag table.
SELECT player, club, bounce_deg AS bounce, in_play_from, in_play_to
FROM bag
WHERE bounce_deg IS NOT NULL
