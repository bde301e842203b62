"""Expected strokes: published and derived curves, each knot with its source."""
