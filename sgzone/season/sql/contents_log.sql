-- What a checked practice log holds.
SELECT
    count(*) AS entries,
    sum(minutes) AS minutes,
    count(DISTINCT player) AS players,
    min(date) AS first_day,
    max(date) AS last_day
FROM staged
