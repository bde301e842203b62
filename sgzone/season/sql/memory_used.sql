-- The memory the engine holds beside what it has read of the file, in bytes.
SELECT CAST(COALESCE(SUM(memory_usage_bytes), 0) AS BIGINT)
FROM duckdb_memory()
WHERE tag <> 'BASE_TABLE'
