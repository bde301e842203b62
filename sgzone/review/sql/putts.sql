-- One row per round: the holes played out, their putts, and the holes with three putts or more.
-- A hole without a putt (holed from off the green) counts as none.
, per_hole AS (
    SELECT
        h.hole_key,
        h.round_key,
        h.ending,
        COUNT(CASE WHEN s.played AND s.lie = 'green' THEN 1 END) AS putts
    FROM holes AS h
    JOIN chosen_rounds USING (round_key)
    JOIN strokes AS s ON s.hole_key = h.hole_key
    GROUP BY h.hole_key, h.round_key, h.ending
)
SELECT
    r.player,
    r.round_place AS round_key,
    COUNT(CASE WHEN p.ending = 'holed' THEN 1 END) AS holes,
    COUNT(CASE WHEN p.ending = 'conceded' THEN 1 END) AS conceded,
    COUNT(CASE WHEN p.ending = 'picked_up' THEN 1 END) AS picked_up,
    CAST(SUM(CASE WHEN p.ending = 'holed' THEN p.putts ELSE 0 END) AS INTEGER) AS putts,
    COUNT(CASE WHEN p.ending = 'holed' AND p.putts >= 3 THEN 1 END) AS three_putts
FROM chosen_rounds AS r
LEFT JOIN per_hole AS p ON p.round_key = r.round_key
GROUP BY r.player, r.round_place
ORDER BY r.round_place
