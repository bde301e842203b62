-- What earlier tables of the same file hold: the keys of their rows, and what those would replace
-- whole, each as one text. Empty when a file is begun.
CREATE OR REPLACE TEMP TABLE earlier (kind VARCHAR, key VARCHAR, whole VARCHAR, file VARCHAR);
