"""Standing wording and the table of words."""
