-- Strokes, fitted curves and agreements that nothing of ours can have made, and strokes whose stored places are
-- not those of their lie and distance. Looked for where a question broke in the middle: an answer
-- that comes does not pay for it.
SELECT
    (
        SELECT count(*)
        FROM strokes
        WHERE (played AND (lie IS NULL OR distance_ft IS NULL))
            OR NOT list_contains($lies, lie)
            OR NOT list_contains($lies, end_lie)
            OR hole NOT BETWEEN 1 AND 99
            OR shot NOT BETWEEN 1 AND 999
            OR penalty NOT BETWEEN 0 AND 9
            OR distance_ft NOT BETWEEN 0 AND 9999
            OR end_distance_ft NOT BETWEEN 0 AND 9999
            OR greatest(
                abs(intended_yd), abs(carry_yd), abs(effective_yd), abs(depth_ft), abs(side_ft),
                abs(launch_deg), abs(spin_rpm), abs(pin_on_yd), abs(green_deep_yd),
                abs(pin_left_yd), abs(green_wide_yd), abs(wind_mph), abs(green_speed_ft)
            ) > 1000000
            OR start_cell IS DISTINCT FROM
                list_position($lies, lie) * $lie_step + TRY_CAST(floor(distance_ft) AS INTEGER)
            OR end_cell IS DISTINCT FROM
                list_position($lies, end_lie) * $lie_step
                + TRY_CAST(floor(end_distance_ft) AS INTEGER)
    )
    + (SELECT count(*) FROM test_balls WHERE greatest(target_yd, abs(carry_yd)) > 1000000)
    + (SELECT count(*) FROM practice_log WHERE minutes NOT BETWEEN 0 AND 1000000)
    + (
        SELECT count(*)
        FROM fitted_curves
        WHERE made_at NOT BETWEEN '1678-01-01' AND '2261-12-31'
            OR since NOT BETWEEN '1678-01-01' AND '2261-12-31'
            OR until NOT BETWEEN '1678-01-01' AND '2261-12-31'
            OR name NOT IN (SELECT name FROM fitted_knots)
    )
    + (SELECT count(*) - count(DISTINCT name) FROM fitted_curves)
    + (
        SELECT count(*)
        FROM agreements
        WHERE day NOT BETWEEN '1678-01-01' AND '2261-12-31'
            OR due NOT BETWEEN '1678-01-01' AND '2261-12-31'
            OR closed NOT BETWEEN '1678-01-01' AND '2261-12-31'
            OR NOT list_contains($parts, part)
            OR NOT list_contains($measures, measure)
            OR from_ft NOT BETWEEN 0 AND 9999
            OR to_ft NOT BETWEEN 0 AND 9999
            OR target NOT BETWEEN 0 AND 9999
    )
    + (
        SELECT count(*)
        FROM fitted_knots
        WHERE strokes NOT BETWEEN 0 AND 99
            OR distance NOT BETWEEN 0 AND 9999
            OR NOT list_contains($lies, lie)
            OR unit NOT IN ('ft', 'yd')
    ) AS odd
