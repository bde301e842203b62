DELETE FROM {table} WHERE name = $name
