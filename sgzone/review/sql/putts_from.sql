-- One row per putt, in order of play: from where, whether it went in, whether it was the first on its
-- hole, and how many putts that hole took where it was played out.
SELECT
    s.player,
    round_place AS round_key,
    s.distance_ft,
    CASE WHEN s.end_lie IS NOT NULL THEN s.end_lie = 'holed' END AS holed,
    ROW_NUMBER() OVER (PARTITION BY s.hole_key ORDER BY s.shot) = 1 AS first,
    CASE WHEN h.ending = 'holed' THEN COUNT(*) OVER (PARTITION BY s.hole_key) END AS putts
FROM strokes AS s
JOIN holes AS h ON h.hole_key = s.hole_key
JOIN chosen_rounds ON chosen_rounds.round_key = s.round_key
WHERE s.played AND s.lie = 'green'
ORDER BY round_place, s.hole, s.shot
