"""Files made from an edition for other programs."""
