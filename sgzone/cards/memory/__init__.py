"""Tables in memory as cards."""
