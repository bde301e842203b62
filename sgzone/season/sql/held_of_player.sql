-- How much the season file holds of one player.
SELECT
    (SELECT count(*) FROM rounds WHERE player = $player) AS rounds,
    (SELECT coalesce(sum(strokes), 0)::BIGINT FROM rounds WHERE player = $player) AS strokes,
    (SELECT count(*) FROM practice_log WHERE player = $player) AS entries,
    (SELECT count(*) FROM test_balls WHERE player = $player) AS balls,
    (SELECT count(*) FROM bag WHERE player = $player) AS clubs,
    (SELECT count(*) FROM agreements WHERE player = $player) AS agreements
