"""Over how many sheets a drawing goes."""
