SELECT player FROM fitted_players WHERE name = $name
