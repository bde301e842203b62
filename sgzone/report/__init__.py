"""Charts, words and pages: draws finished tables and computes nothing."""
