-- What one fitted benchmark was made of; no row where there is none of that name.
SELECT base, since, until, event, fringe_rule FROM fitted_curves WHERE name = $name
