-- The fitted benchmarks of the season file, and how many players made each.
SELECT name AS benchmark, base, made_at, count(p.player) AS players, rounds, strokes
FROM fitted_curves
LEFT JOIN fitted_players AS p USING (name)
GROUP BY ALL
ORDER BY name
