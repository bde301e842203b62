-- Which new name is a letter or two from another: of the season file, or further up in the file.
-- `names`: place (in the file; those of the season file come first, below 0), name, plain (capitals,
-- accents and blanks away), mark (initials and digits: where these differ they are two people),
-- slips (letters that may differ in so short a name, -1 for none).
CREATE OR REPLACE TEMP TABLE near_names AS
SELECT n.place, n.name, k.name AS other, k.place < 0 AS stored
FROM names AS n
JOIN names AS k
    ON n.mark = k.mark AND k.place < n.place AND n.place >= 0 AND n.name <> k.name
WHERE abs(length(n.plain) - length(k.plain)) <= n.slips
    AND damerau_levenshtein(n.plain, k.plain) <= least(n.slips, k.slips)
QUALIFY row_number() OVER (
    PARTITION BY n.place ORDER BY damerau_levenshtein(n.plain, k.plain), k.place
) = 1
ORDER BY n.place;
