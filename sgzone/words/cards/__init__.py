"""What a card says, in words."""
