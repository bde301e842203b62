-- Where the ball lay: the lie by its plain name, the distance in feet.
-- From `typed` (values and cells), `aliases` (word, lie) and `distances` (cell, value, unit).
WITH
named AS (
    SELECT
        typed.* EXCLUDE (lie, distance),
        aliases.lie,
        distances.value AS distance_value,
        distances.unit AS written_unit
    FROM typed
    LEFT JOIN aliases ON aliases.word = regexp_replace(lower(cell_lie), '[\s_]+', ' ', 'g')
    LEFT JOIN distances ON distances.cell = cell_distance
),
in_units AS (
    SELECT
        *,
        CASE
            WHEN written_unit IS NOT NULL THEN written_unit
            WHEN cell_unit IS NOT NULL THEN unit
            WHEN lie = 'green' THEN 'ft'
            WHEN lie <> 'fringe' THEN 'yd'
        END AS distance_unit
    FROM named
)
SELECT
    * EXCLUDE (written_unit),
    round(CASE distance_unit
        WHEN 'ft' THEN distance_value
        WHEN 'yd' THEN distance_value * $ft_per_yd
        WHEN 'm' THEN distance_value / $m_per_ft
    END, $ft_decimals) AS distance_ft,
    broken OR player IS NULL OR date IS NULL OR round IS NULL OR hole IS NULL OR shot IS NULL
        AS bad_key
FROM in_units
