-- The rows the question is about, of Parquet files: each row carries what the season file keeps in
-- tables of its own, so that no other row is needed to value it.
SELECT *
FROM {strokes}
WHERE ($player IS NULL OR player = $player)
  AND ($since IS NULL OR date >= $since)
  AND ($until IS NULL OR date <= $until)
  AND ($event IS NULL OR round_event = $event)
