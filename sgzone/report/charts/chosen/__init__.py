"""What a chart does while a reader of the page has chosen some rounds or strokes."""
