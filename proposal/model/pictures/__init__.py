"""Pictures that people put into a project: what they may hold, and what of them is published."""
