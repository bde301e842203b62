"""The season file: the only place that knows DuckDB."""
