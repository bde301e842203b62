"""Verbs about one round."""
