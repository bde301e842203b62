-- One row per listed stroke, in the order of play.
SELECT
    player,
    date,
    round,
    hole,
    shot,
    lie,
    distance_ft / 3.0 AS distance_yd,
    part,
    band,
    end_lie,
    end_distance_ft / 3.0 AS end_distance_yd,
    penalty,
    expected_before,
    expected_after,
    gained,
    CASE
        WHEN gained IS NOT NULL THEN 'scored'
        WHEN end_lie IS NULL THEN 'unknown_end'
        ELSE 'no_benchmark'
    END AS status,
    round_key,
    hole_key,
    distance_ft,
    end_distance_ft,
    {factors}
    strftime(date, '%Y-%m') AS month
FROM gained
ORDER BY player, date, round, hole, shot
