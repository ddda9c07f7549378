"""Cables: which, between which ports, how long, and whether they hold."""
