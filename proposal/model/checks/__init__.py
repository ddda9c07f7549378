"""Checks that need more than one field: made over the whole project."""
