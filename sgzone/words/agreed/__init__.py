"""Sentences and tables about what coach and player agreed on."""
