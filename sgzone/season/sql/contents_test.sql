-- What a checked table of test blocks holds.
SELECT
    count(*) AS balls,
    count(DISTINCT (player, date, block)) AS blocks,
    count(DISTINCT player) AS players,
    min(date) AS first_day,
    max(date) AS last_day
FROM staged
