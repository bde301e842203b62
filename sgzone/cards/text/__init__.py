"""The text card: a round as people type it, one line a hole."""
