-- Strokes whose stored places are not those of their lie and distance (season/place_numbers.py): the file was
-- changed by something that did not know of them.
SELECT count(*) AS apart
FROM strokes
WHERE start_cell IS DISTINCT FROM
        list_position($lies, lie) * $lie_step + TRY_CAST(floor(distance_ft) AS INTEGER)
    OR end_cell IS DISTINCT FROM
        list_position($lies, end_lie) * $lie_step + TRY_CAST(floor(end_distance_ft) AS INTEGER);
