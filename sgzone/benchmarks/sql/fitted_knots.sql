SELECT * FROM fitted_knots WHERE name = $name ORDER BY place
