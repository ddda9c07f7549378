"""The building and its pathways."""
