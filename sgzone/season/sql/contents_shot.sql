-- What a checked card holds, from the staged rows. open: holes left where their last stroke finished.
SELECT
    count(DISTINCT round_no) AS rounds,
    count(DISTINCT hole_no) AS holes,
    count(*) FILTER (WHERE played) AS strokes,
    count(*) FILTER (WHERE played AND lie = 'green') AS putts,
    coalesce(sum(penalty), 0)::BIGINT AS penalties,
    count(*) FILTER (WHERE next_row IS NULL AND result IS NULL) AS open,
    count(DISTINCT player) AS players,
    min(date) AS first_day,
    max(date) AS last_day,
    coalesce(bool_and(distance_unit = 'm'), FALSE) AS metres
FROM staged
