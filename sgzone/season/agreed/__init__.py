"""What coach and player agreed on, as the season file keeps it."""
