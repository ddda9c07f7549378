"""Equipment that the owner has, and how it is joined to ours."""
