-- Every stroke of the zone whose hole's last place is known, with the strokes and penalties from it
-- up to that place: 0 further from the hole, else what is expected from there. Holes whose ball was
-- lost and picked up are left out. Rounds are numbered by player, date and round, whatever the order
-- of loading was.
WITH numbered AS (
    SELECT *, ROW_NUMBER() OVER (ORDER BY player, date, round) AS round_place
    FROM rounds
),
chosen AS (
    SELECT round_key, round_place
    FROM numbered
    WHERE (len($players) = 0 OR list_contains($players, player))
      AND ($since IS NULL OR date >= $since)
      AND ($until IS NULL OR date <= $until)
      AND ($event IS NULL OR event = $event)
),
counted AS (
    SELECT round_place, h.hole, s.player, s.lie, s.distance_ft, s.end_lie,
        SUM(1 + s.penalty) OVER (
            PARTITION BY s.hole_key ORDER BY s.shot DESC
        ) AS used,
        h.ending, h.last_lie, h.last_distance_ft
    FROM strokes AS s
    JOIN chosen USING (round_key)
    JOIN holes AS h USING (hole_key)
    WHERE s.played
)
SELECT round_place AS round_key, player, lie, distance_ft,
    CAST(used AS DOUBLE) AS used,
    CASE WHEN ending = 'holed' THEN 'holed' ELSE last_lie END AS last_lie,
    CASE WHEN ending = 'holed' THEN 0 ELSE last_distance_ft END AS last_distance_ft,
    CAST(COALESCE(end_lie = 'holed', false) AS DOUBLE) AS holed
FROM counted
WHERE distance_ft <= $zone_ft AND (ending = 'holed' OR last_lie IS NOT NULL)
ORDER BY round_place, hole, used DESC
