INSERT INTO {table} BY NAME SELECT * FROM fitted_rows
