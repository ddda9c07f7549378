"""Integer programmes, and the one objective by which everything is chosen."""
