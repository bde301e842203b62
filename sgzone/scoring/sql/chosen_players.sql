-- How many of the chosen rounds each player has: in their order the rounds are these, one after the
-- other.
SELECT player, COUNT(*) AS rounds FROM chosen_rounds GROUP BY player ORDER BY player
