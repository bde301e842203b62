"""Sentences about one round."""
