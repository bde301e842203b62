-- The holes of one round in order, those without a stroke in the zone too, and how each ended.
SELECT h.hole, h.par, h.ending
FROM holes AS h
JOIN chosen_rounds AS r USING (round_key)
WHERE r.round = $number
ORDER BY h.hole
