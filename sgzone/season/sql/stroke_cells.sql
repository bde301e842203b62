-- Schema 3: where a stroke starts and ends as one integer each, lie and whole foot, so that scoring
-- joins the curve on an integer (season/place_numbers.py).
ALTER TABLE strokes ADD COLUMN start_cell INTEGER;

ALTER TABLE strokes ADD COLUMN end_cell INTEGER;

UPDATE strokes
SET start_cell = list_position($lies, lie) * $lie_step + floor(distance_ft)::INTEGER,
    end_cell = list_position($lies, end_lie) * $lie_step + floor(end_distance_ft)::INTEGER;
