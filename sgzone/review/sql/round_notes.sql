-- What the card says beside the strokes of one round.
SELECT s.hole, s.shot, s.note
FROM strokes AS s
JOIN chosen_rounds AS r USING (round_key)
WHERE r.round = $number AND s.note IS NOT NULL
ORDER BY s.hole, s.shot
