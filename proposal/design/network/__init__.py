"""Switches, addresses and streams."""
