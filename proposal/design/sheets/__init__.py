"""Which drawing sheets there are."""
