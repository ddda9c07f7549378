"""What follows from the project: sizes, routes, power, numbers."""
