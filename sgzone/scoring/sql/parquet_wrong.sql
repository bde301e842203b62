SELECT {counts} FROM parquet_strokes
