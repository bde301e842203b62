"""What takes a table or a chart out of the page."""

from __future__ import annotations

TAKE_TABLE = "Take the table (CSV)"
TAKE_CHART = "Take the chart (SVG)"
TAKE_CHOSEN = "Take the chart of your choice (SVG)"
TAKE_PICTURE = "as PNG"
