"""The price and its lines."""
