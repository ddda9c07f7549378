"""Lines of the take-off."""
