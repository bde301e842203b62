-- The identity of a hole, from the rows themselves and not from the stored end states:
-- expected(first) - expected(last known place) - strokes - penalties = sum of gained.
, counted AS (
    SELECT hole_key, MIN(shot) AS first_shot
    FROM zone_starts
    GROUP BY hole_key
),
chain AS (
    SELECT s.*,
        ROW_NUMBER() OVER (PARTITION BY s.hole_key ORDER BY s.shot) AS from_first,
        ROW_NUMBER() OVER (PARTITION BY s.hole_key ORDER BY s.shot DESC) AS from_last
    FROM strokes AS s
    JOIN counted AS c ON c.hole_key = s.hole_key AND s.shot >= c.first_shot
),
worth AS (
    SELECT c.*,
        b.c0 + (c.distance_ft - b.x0) * (b.c1 + (c.distance_ft - b.x0)
            * (b.c2 + (c.distance_ft - b.x0) * b.c3)) AS expected,
        e.c0 + (c.end_distance_ft - e.x0) * (e.c1 + (c.end_distance_ft - e.x0)
            * (e.c2 + (c.end_distance_ft - e.x0) * e.c3)) AS expected_left
    FROM chain AS c
    LEFT JOIN {curve} AS b
        ON b.lie = c.lie
        AND b.cell = CAST(FLOOR(c.distance_ft) AS INTEGER)
        AND c.distance_ft >= b.x_lo
        AND c.distance_ft < b.x_hi
    LEFT JOIN {curve} AS e  -- of a last stroke that says itself where it finished
        ON c.from_last = 1 AND c.played AND c.end_lie <> 'holed'
        AND e.lie = c.end_lie
        AND e.cell = CAST(FLOOR(c.end_distance_ft) AS INTEGER)
        AND c.end_distance_ft >= e.x_lo
        AND c.end_distance_ft < e.x_hi
),
ends AS (
    SELECT hole_key,
        MAX(player) AS player, MAX(date) AS date, MAX(round) AS round, MAX(hole) AS hole,
        MAX(CASE WHEN from_first = 1 THEN expected END) AS expected_first,
        -- a ball lost and picked up leaves its last stroke without an end: the place before it
        -- is the last known one, and that stroke is not counted
        BOOL_OR(from_last = 1 AND NOT played AND lie IS NULL) AS lost,
        MAX(CASE
            WHEN from_last <> 1 THEN NULL
            WHEN NOT played THEN expected
            WHEN end_lie = 'holed' THEN 0
            ELSE expected_left
        END) AS expected_end,
        MAX(CASE WHEN from_last = 2 THEN expected END) AS expected_before_lost,
        SUM(CASE WHEN played THEN 1 ELSE 0 END) AS strokes,
        SUM(CASE WHEN played THEN penalty ELSE 0 END) AS penalties,
        MAX(CASE WHEN from_last = 2 THEN penalty END) AS penalty_before_lost
    FROM worth
    GROUP BY hole_key
),
sums AS (
    SELECT hole_key, FSUM(gained) AS gained, COUNT(*) - COUNT(gained) AS unscored
    FROM gained
    GROUP BY hole_key
),
identity AS (
    SELECT *,
        CASE WHEN lost
            THEN expected_first - expected_before_lost - (strokes - 1)
                - (penalties - penalty_before_lost)
            ELSE expected_first - expected_end - strokes - penalties
        END AS by_identity
    FROM ends
)
SELECT player, date, round, hole, strokes, penalties, by_identity, COALESCE(s.gained, 0) AS gained,
    COALESCE(s.gained, 0) - by_identity AS difference, s.unscored
FROM identity AS i
LEFT JOIN sums AS s ON s.hole_key = i.hole_key
ORDER BY player, date, round, hole
