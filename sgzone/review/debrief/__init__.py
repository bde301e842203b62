"""One round: what it gained and lost, beside the player's other rounds."""
