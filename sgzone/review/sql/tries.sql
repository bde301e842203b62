-- One row per try from off the green inside 50 yards: a hole's first such stroke, and its first
-- one from sand. What it took from there, and how the hole ended.
, near AS (
    SELECT s.hole_key, s.shot, s.lie
    FROM strokes AS s
    JOIN chosen_rounds USING (round_key)
    WHERE s.played AND s.lie <> 'green' AND s.distance_ft < $near_ft
),
first_of AS (
    SELECT 'up-and-downs' AS measure, hole_key, MIN(shot) AS first_shot FROM near GROUP BY hole_key
    UNION ALL
    SELECT 'sand saves' AS measure, hole_key, MIN(shot) AS first_shot
    FROM near WHERE lie = 'sand' GROUP BY hole_key
)
SELECT
    f.measure,
    s.player,
    r.round_place AS round_key,
    h.hole,
    MAX(CASE WHEN s.shot = f.first_shot THEN s.distance_ft END) AS distance_ft,
    MAX(CASE WHEN s.shot = f.first_shot THEN s.lie END) AS lie,
    MAX(CASE WHEN s.shot = f.first_shot THEN s.club END) AS club,
    CAST(SUM(CASE WHEN s.played THEN 1 + s.penalty ELSE 0 END) AS INTEGER) AS strokes,
    MAX(h.ending) AS ending,
    COALESCE(MAX(h.last_lie) = 'green', FALSE) AS left_on_green
FROM first_of AS f
JOIN strokes AS s ON s.hole_key = f.hole_key AND s.shot >= f.first_shot
JOIN holes AS h ON h.hole_key = f.hole_key
JOIN chosen_rounds AS r ON r.round_key = s.round_key
GROUP BY f.measure, s.player, r.round_place, h.hole
ORDER BY f.measure, r.round_place, h.hole
