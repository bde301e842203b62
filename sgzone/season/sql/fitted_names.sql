-- The names of the benchmarks that were fitted to this season file.
SELECT name FROM fitted_curves ORDER BY name
