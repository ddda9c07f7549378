"""Quantities: their units, how they are read and written, and money; the floor below the model."""
