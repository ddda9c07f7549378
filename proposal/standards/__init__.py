"""Published formulas as plain functions of floats, each with its equation, source and validity range."""
