-- Balls of test blocks. Range balls are another kind of ball, so another source. In an order of
-- their own, not the file's: sums in another order differ in the last digits.
SELECT
    CASE WHEN ball = 'range' THEN 'range balls' ELSE 'test' END AS source,
    club,
    COALESCE(swing, '') AS swing,
    date,
    NULL AS round_key,
    block,
    'fairway' AS lie,
    target_yd,
    target_yd AS number_yd,
    target_yd AS meant_yd,
    carry_yd,
    depth_ft,
    side_ft,
    launch_deg,
    spin_rpm,
    face,
    NULL AS turf,
    NULL AS firmness
FROM test_balls
WHERE ($player IS NULL OR player = $player)
  AND ($since IS NULL OR date >= $since)
  AND ($until IS NULL OR date <= $until)
ORDER BY date, block, club, swing, target_yd, carry_yd, depth_ft, side_ft, source_row
