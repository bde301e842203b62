"""What a shot card is, how it is read, and the rules it must keep."""
