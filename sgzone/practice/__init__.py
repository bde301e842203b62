"""What share of the practice hours each part deserves."""
