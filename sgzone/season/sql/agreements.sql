-- Schema 6: what coach and player agreed on. Rounds up to `day` are before it, later ones since.
CREATE TABLE agreements (
    agreement INTEGER NOT NULL,         -- the number it is called by
    player VARCHAR NOT NULL,
    day DATE NOT NULL,                  -- agreed on
    text VARCHAR NOT NULL,
    part VARCHAR,                       -- the part it is about, or
    measure VARCHAR,                    -- what is counted for it, and
    from_ft DOUBLE,                     -- from where: NULL for all that the measure takes in
    to_ft DOUBLE,
    target DOUBLE,                      -- of the measure: a share from 0 to 1, or feet
    due DATE,
    closed DATE                         -- done on; NULL while it is open
);

ALTER TABLE agreements ADD PRIMARY KEY (agreement);
