"""The formula of strokes gained, and the check that a hole adds up."""
