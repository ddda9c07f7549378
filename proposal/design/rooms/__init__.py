"""Kinds of room, and where their devices stand."""
