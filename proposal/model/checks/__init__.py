"""What no single field can tell: checked over the whole project."""
