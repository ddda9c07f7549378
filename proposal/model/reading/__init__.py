"""Files read into trees that know the place of every part, and how problems are told."""
