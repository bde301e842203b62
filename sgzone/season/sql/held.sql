-- How many players, rounds and strokes are in the season file.
SELECT count(DISTINCT player), count(*), coalesce(sum(strokes), 0)::BIGINT
FROM rounds
