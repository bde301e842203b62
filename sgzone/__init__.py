"""Strokes gained inside 150 yards: where they are won and lost, why, how sure, what to practise."""

__version__ = "0.1.0"
