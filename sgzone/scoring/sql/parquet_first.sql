-- The first stroke that breaks a rule, and where it stands.
SELECT file, place, value FROM parquet_strokes WHERE {rows} LIMIT 1
