-- Benchmarks fitted to strokes of this file: the curve, its knots, and whose strokes made it.
CREATE TABLE fitted_curves (
    name VARCHAR NOT NULL,
    base VARCHAR NOT NULL,              -- the curve it was shrunk towards
    fringe_rule BOOLEAN NOT NULL,       -- the fringe is worked out from green and fairway
    made_at TIMESTAMP NOT NULL,         -- UTC
    since DATE,                         -- which strokes: days and event, NULL for all
    until DATE,
    event VARCHAR,
    rounds INTEGER NOT NULL,
    strokes INTEGER NOT NULL
);

CREATE TABLE fitted_knots (
    name VARCHAR NOT NULL,
    place INTEGER NOT NULL,             -- order of the knots
    lie VARCHAR NOT NULL,
    distance DOUBLE NOT NULL,
    unit VARCHAR NOT NULL,
    strokes DOUBLE NOT NULL,
    status VARCHAR NOT NULL,
    source VARCHAR NOT NULL,
    n INTEGER NOT NULL,                 -- strokes nearest to the knot
    low DOUBLE,                         -- the band; NULL for a lie without strokes
    high DOUBLE
);

CREATE TABLE fitted_players (name VARCHAR NOT NULL, player VARCHAR NOT NULL);
