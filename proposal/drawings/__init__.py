"""Drawings of an edition: a frozen specification each, and its rendering."""
