"""How far cables lie along floors and furniture before that needs a way of its own."""

AT_THE_WALL_M = 0.75
"""How far from a wall furniture at it reaches; a cable from there needs no way along the floor."""
ALONG_FURNITURE_M = 1.5
"""So far a cable lies on the floor behind the furniture of its device; farther, people walk on it."""
SIDE_BY_SIDE_M = 1.5
"""What stands on furniture no farther from each other than this is joined along it, not over the ceiling."""
