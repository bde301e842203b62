-- The season file. One row of strokes per row of a card; end_lie and end_distance_ft are the
-- ball's next place, set once at load, so that scoring needs no window.
CREATE TABLE meta (schema_version INTEGER NOT NULL);

CREATE SEQUENCE load_ids;
CREATE SEQUENCE round_keys;
CREATE SEQUENCE hole_keys;

CREATE TABLE loads (
    load_id INTEGER NOT NULL,
    kind VARCHAR NOT NULL,              -- shot, log, test or bag
    file_name VARCHAR NOT NULL,
    sha256 VARCHAR NOT NULL,
    loaded_at TIMESTAMP NOT NULL,       -- UTC
    rows INTEGER NOT NULL
);

CREATE TABLE rounds (
    round_key BIGINT NOT NULL,
    load_id INTEGER NOT NULL,
    player VARCHAR NOT NULL,
    date DATE NOT NULL,
    round INTEGER NOT NULL,
    holes INTEGER NOT NULL,             -- holes recorded
    strokes INTEGER NOT NULL,           -- strokes played (conceded and picked-up rows are none)
    course VARCHAR,
    event VARCHAR,
    format VARCHAR
);

CREATE TABLE holes (
    hole_key BIGINT NOT NULL,
    round_key BIGINT NOT NULL,
    hole INTEGER NOT NULL,
    par INTEGER,
    ending VARCHAR NOT NULL,            -- holed, conceded, picked_up; open: no row after its last stroke
    last_lie VARCHAR,                   -- last known place; NULL when holed or when the ball was lost
    last_distance_ft DOUBLE
);

CREATE TABLE strokes (
    load_id INTEGER NOT NULL,
    source_row INTEGER NOT NULL,        -- row of the file, as a spreadsheet numbers it
    round_key BIGINT NOT NULL,
    hole_key BIGINT NOT NULL,
    player VARCHAR NOT NULL,
    date DATE NOT NULL,
    round INTEGER NOT NULL,
    hole INTEGER NOT NULL,
    shot INTEGER NOT NULL,
    played BOOLEAN NOT NULL,            -- false: the row only marks where the ball lay
    lie VARCHAR,
    distance_ft DOUBLE,
    penalty INTEGER NOT NULL,
    result VARCHAR,
    end_lie VARCHAR,                    -- 'holed', a lie, or NULL where the next place is unknown
    end_distance_ft DOUBLE,             -- 0 when holed
    club VARCHAR,
    swing VARCHAR,
    measured VARCHAR,
    intended_yd DOUBLE,
    carry_yd DOUBLE,
    effective_yd DOUBLE,
    depth_ft DOUBLE,
    side_ft DOUBLE,
    launch_deg DOUBLE,
    spin_rpm DOUBLE,
    pin_on_yd DOUBLE,
    green_deep_yd DOUBLE,
    pin_left_yd DOUBLE,
    green_wide_yd DOUBLE,
    format VARCHAR,
    flight VARCHAR,
    shape VARCHAR,
    wind VARCHAR,
    wind_mph DOUBLE,
    turf VARCHAR,
    green_firmness VARCHAR,
    green_speed_ft DOUBLE,
    lie_quality VARCHAR,
    face VARCHAR,
    course VARCHAR,
    event VARCHAR,
    par INTEGER,
    note VARCHAR,
    extra VARCHAR                       -- unknown columns, as one JSON object
);

CREATE TABLE practice_log (
    load_id INTEGER NOT NULL,
    source_row INTEGER NOT NULL,
    player VARCHAR NOT NULL,
    date DATE NOT NULL,
    minutes DOUBLE NOT NULL,
    part VARCHAR NOT NULL,
    club VARCHAR,
    balls INTEGER,
    note VARCHAR,
    extra VARCHAR
);

CREATE TABLE test_balls (
    load_id INTEGER NOT NULL,
    source_row INTEGER NOT NULL,
    player VARCHAR NOT NULL,
    date DATE NOT NULL,
    block VARCHAR NOT NULL,
    target_yd DOUBLE NOT NULL,
    club VARCHAR NOT NULL,
    swing VARCHAR,
    carry_yd DOUBLE,
    depth_ft DOUBLE,
    side_ft DOUBLE,
    launch_deg DOUBLE,
    spin_rpm DOUBLE,
    face VARCHAR,
    ball VARCHAR,
    surface VARCHAR,
    device VARCHAR,
    extra VARCHAR
);

CREATE TABLE bag (
    load_id INTEGER NOT NULL,
    source_row INTEGER NOT NULL,
    player VARCHAR NOT NULL,
    club VARCHAR NOT NULL,
    loft_deg DOUBLE,
    bounce_deg DOUBLE,
    in_play_from DATE NOT NULL,
    in_play_to DATE,
    extra VARCHAR
);
