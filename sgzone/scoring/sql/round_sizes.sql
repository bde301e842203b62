SELECT player, round_key, date, round, holes, course, event
FROM chosen_rounds
ORDER BY player, date, round
