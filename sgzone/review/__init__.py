"""Where strokes go, why, and how sure one can be."""
