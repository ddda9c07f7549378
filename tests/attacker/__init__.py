"""A client who tries to work out what stays in the house: what they know, try and find."""
