"""Mains: what every device takes from it, the outlets that feed them, and the circuits behind these."""
