-- Some of the chosen rounds, as many as are added up at once.
SELECT round_key, round_place
FROM chosen
WHERE round_key BETWEEN $first_key AND $last_key
