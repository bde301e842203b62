-- What a checked bag holds.
SELECT count(*) AS clubs, count(DISTINCT player) AS players FROM staged
