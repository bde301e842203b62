-- One row per round: the penalty strokes of what was played in the zone.
SELECT
    r.player,
    r.round_place AS round_key,
    r.holes,
    CAST(COALESCE(SUM(s.penalty), 0) AS INTEGER) AS penalties
FROM chosen_rounds AS r
LEFT JOIN strokes AS s
    ON s.round_key = r.round_key AND s.played AND s.distance_ft <= $zone_ft
GROUP BY r.player, r.round_place, r.holes
ORDER BY r.round_place
