-- The formula.
SELECT
    *,
    expected_before - expected_after - 1 - penalty AS gained
FROM valued
