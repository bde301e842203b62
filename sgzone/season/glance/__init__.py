"""A look into a season file between two keys of a shell: quick, and silent where it fails."""
