"""Commercial rules."""
