-- Schema 5: what beside the bytes of a file made these rows of it: answers of the caller, a mapping,
-- which table of several. NULL: the file alone. The same file under other answers is another load.
ALTER TABLE loads ADD COLUMN read_as VARCHAR;
