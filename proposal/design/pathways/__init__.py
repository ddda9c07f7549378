"""Ways through the building, and how full they are."""
