-- Schema 4: no two rounds and no two loads under one key. The next key is worked out from the keys
-- that are there: a number kept beside them can be behind. (On strokes and holes a constraint would
-- cost a load several times over: sql/unsound.sql asks instead.)
ALTER TABLE rounds ADD PRIMARY KEY (round_key);

ALTER TABLE loads ADD PRIMARY KEY (load_id);

DROP SEQUENCE IF EXISTS load_ids;

DROP SEQUENCE IF EXISTS round_keys;

DROP SEQUENCE IF EXISTS hole_keys;
