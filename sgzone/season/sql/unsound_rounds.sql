-- What every opening looks at: a round that is there twice, rounds of no load, and days that no card
-- can have and no frame can hold. The tables of strokes and holes are too long for that.
SELECT
    (SELECT count(*) - count(DISTINCT (player, date, round)) FROM rounds) AS twice,
    (SELECT count(*) FROM rounds ANTI JOIN loads USING (load_id)) AS lost,
    (
        SELECT count(*)
        FROM (
            SELECT date FROM rounds
            UNION ALL SELECT loaded_at FROM loads
            UNION ALL SELECT date FROM practice_log
            UNION ALL SELECT date FROM test_balls
            UNION ALL SELECT in_play_from FROM bag
            UNION ALL SELECT in_play_to FROM bag
        )
        WHERE date NOT BETWEEN '1678-01-01' AND '2261-12-31'
    ) AS odd
