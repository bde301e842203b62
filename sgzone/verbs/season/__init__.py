"""What the verbs about the season file are made of: folders to load, rounds to delete."""
