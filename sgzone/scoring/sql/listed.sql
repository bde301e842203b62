-- One row per listed stroke; further columns of the season file come after the sixteen.
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
    END AS status
    {more}
FROM gained
