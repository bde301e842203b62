-- One row per row of the cards in the season file, in the order of their own rows, with what each
-- stroke gained; what is no listed stroke has no value and says why.
SELECT
    s.source_row,
    g.part,
    g.band,
    g.expected_before,
    g.expected_after,
    g.gained,
    CASE
        WHEN NOT s.played THEN 'no_stroke'
        WHEN g.shot IS NULL THEN 'outside'
        WHEN g.gained IS NOT NULL THEN 'scored'
        WHEN g.end_lie IS NULL THEN 'unknown_end'
        ELSE 'no_benchmark'
    END AS status
FROM strokes AS s
JOIN chosen_rounds USING (round_key)
LEFT JOIN gained AS g ON g.hole_key = s.hole_key AND g.shot = s.shot AND s.played
ORDER BY s.source_row
