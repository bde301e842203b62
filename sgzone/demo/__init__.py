"""A simulated season with known truth."""
