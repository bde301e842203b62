"""The strokes that travel in the page of one player, so that it can be asked about them."""
