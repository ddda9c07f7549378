"""What the design takes and costs."""
