"""A look into a season file between two keys of a shell: quick, without what reads cards."""
