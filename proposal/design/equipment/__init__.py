"""How many of what a room takes."""
