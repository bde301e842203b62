-- Test balls whose finish is known, in an order of their own, not the file's: sums in another order
-- differ in the last digits.
SELECT date, block, target_yd, club, swing, depth_ft, side_ft, ball, surface
FROM test_balls
WHERE ($player IS NULL OR player = $player)
  AND ($since IS NULL OR date >= $since)
  AND ($until IS NULL OR date <= $until)
  AND depth_ft IS NOT NULL AND side_ft IS NOT NULL
ORDER BY date, block, ball, surface, target_yd, club, swing, depth_ft, side_ft
