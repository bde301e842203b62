-- Strokes that start outside the zone after the hole had come inside it once (a ball sent out of
-- bounds, a ball over the green and away). Rare, so the join is small.
SELECT s.*, round_place
FROM strokes AS s
JOIN chosen_rounds USING (round_key)
JOIN (
    SELECT hole_key, MIN(shot) AS first_shot
    FROM strokes
    WHERE distance_ft <= $zone_ft
    GROUP BY hole_key
) AS entered ON entered.hole_key = s.hole_key
WHERE s.played AND s.distance_ft > $zone_ft AND s.shot > entered.first_shot
