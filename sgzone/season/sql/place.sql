-- Where the ball lay: the lie by its plain name, the distance in feet.
-- From `typed` (values and cells); bound: aliases, the length of a foot and a yard.
CREATE OR REPLACE TEMP TABLE placed AS
WITH
spelled AS (
    SELECT
        *,
        regexp_replace(lower(cell_lie), '[\s_]+', ' ', 'g') AS lie_word,
        replace(translate(regexp_replace(lower(cell_distance), '\s+', '', 'g'),
                          '’′”″', '''''""'), '''''', '"') AS d
    FROM typed
),
parted AS (
    SELECT
        *,
        regexp_extract(d, $plain_form, ['number', 'unit']) AS plain,
        regexp_extract(d, '^(\d+)''(\d+(?:\.\d+)?)"?$', ['feet', 'inches']) AS long_form,
        regexp_extract(d, '^(\d+(?:\.\d+)?)"$', ['inches']) AS short_form
    FROM spelled
),
named AS (
    SELECT
        parted.* EXCLUDE (lie),
        aliases.lie,
        TRY_CAST(long_form.inches AS DOUBLE) AS distance_inches,
        coalesce(
            TRY_CAST(plain.number AS DOUBLE),
            TRY_CAST(long_form.feet AS DOUBLE) + TRY_CAST(long_form.inches AS DOUBLE) / 12,
            TRY_CAST(short_form.inches AS DOUBLE) / 12
        ) AS distance_value,
        CASE
            WHEN long_form.feet <> '' OR short_form.inches <> '' OR plain.unit = '''' THEN 'ft'
            WHEN plain.unit <> '' THEN plain.unit
        END AS written_unit
    FROM parted
    LEFT JOIN aliases ON aliases.word = parted.lie_word
),
in_units AS (
    SELECT
        *,
        CASE
            WHEN written_unit IS NOT NULL THEN unit_words.unit
            WHEN cell_unit IS NOT NULL THEN named.unit
            WHEN lie = 'green' THEN 'ft'
            WHEN lie <> 'fringe' THEN 'yd'
        END AS distance_unit
    FROM named
    LEFT JOIN unit_words ON unit_words.word = named.written_unit
)
SELECT
    * EXCLUDE (lie_word, d, plain, long_form, short_form, written_unit, distance),
    round(CASE distance_unit
        WHEN 'ft' THEN distance_value
        WHEN 'yd' THEN distance_value * $ft_per_yd
        WHEN 'm' THEN distance_value / $m_per_ft
    END, $ft_decimals) AS distance_ft,
    broken OR player IS NULL OR date IS NULL OR round IS NULL OR hole IS NULL OR shot IS NULL
        AS bad_key
FROM in_units;
