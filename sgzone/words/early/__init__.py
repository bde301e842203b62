"""What the first rounds can say."""
