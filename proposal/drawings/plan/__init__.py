"""What plans of rooms and of storeys share: field and scale, marks and labels, the storey as it is drawn."""
