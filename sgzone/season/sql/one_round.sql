-- One round in order of play, as a card has it: a finish stands in a row where the next row does not
-- say it.
SELECT
    s.* EXCLUDE (
        load_id, source_row, round_key, hole_key, start_cell, end_cell, end_lie, end_distance_ft, apart
    ),
    CASE WHEN apart THEN end_lie END AS to_lie,
    CASE WHEN apart THEN end_distance_ft END AS to_distance_ft
FROM (
    SELECT
        *,
        result IS NULL AND end_lie IS NOT NULL AND (
            end_lie IS DISTINCT FROM lead(lie) OVER hole_in_order
            OR end_distance_ft IS DISTINCT FROM lead(distance_ft) OVER hole_in_order
        ) AS apart
    FROM strokes
    WHERE player = $player AND date = $date AND round = $round
    WINDOW hole_in_order AS (PARTITION BY hole ORDER BY shot)
) s
ORDER BY hole, shot
