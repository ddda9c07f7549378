"""Pathways and cable routes through the building, and how full the pathways are."""
