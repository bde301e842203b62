"""Stock carries, a number to hit, wear."""
