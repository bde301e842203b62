-- Each club's time in play and what the file says it was used for meanwhile.
WITH times AS (
    SELECT *, ROW_NUMBER() OVER (ORDER BY player, club, in_play_from) AS entry
    FROM bag
    WHERE $player IS NULL OR player = $player
),
played AS (
    SELECT t.entry,
        COUNT(*) FILTER (WHERE s.lie <> 'sand') AS shots,
        COUNT(*) FILTER (WHERE s.lie = 'sand') AS sand_shots
    FROM times AS t
    JOIN strokes AS s ON s.player = t.player AND s.club = t.club AND s.played
        AND s.date >= t.in_play_from AND (t.in_play_to IS NULL OR s.date <= t.in_play_to)
    GROUP BY t.entry
),
balls AS (
    SELECT player, club, date, 1 AS balls FROM test_balls
    UNION ALL
    SELECT player, club, date, balls FROM practice_log WHERE club IS NOT NULL AND balls IS NOT NULL
),
practised AS (
    SELECT t.entry, CAST(SUM(b.balls) AS BIGINT) AS practice_balls
    FROM times AS t
    JOIN balls AS b ON b.player = t.player AND b.club = t.club
        AND b.date >= t.in_play_from AND (t.in_play_to IS NULL OR b.date <= t.in_play_to)
    GROUP BY t.entry
)
SELECT t.club, t.loft_deg, t.bounce_deg, t.in_play_from, t.in_play_to,
    COALESCE(p.shots, 0) AS shots,
    COALESCE(p.sand_shots, 0) AS sand_shots,
    COALESCE(q.practice_balls, 0) AS practice_balls,
    (SELECT MAX(date) FROM rounds) AS last_day
FROM times AS t
LEFT JOIN played AS p USING (entry)
LEFT JOIN practised AS q USING (entry)
ORDER BY t.club, t.in_play_from
