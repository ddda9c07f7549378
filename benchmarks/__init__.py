"""How the program grows with the building: run by hand, not by the tests."""
