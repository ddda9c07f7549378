"""Racks: what stands in them, which ones, and at which units."""
