SELECT player, round_place AS round_key, date, round, holes, course, event
FROM chosen_rounds
ORDER BY round_place
