"""What the fields of the project's models are read for."""
