"""Other people's tables: a file beside the table says what its headers and words mean."""
