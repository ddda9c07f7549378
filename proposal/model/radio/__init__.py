"""What radio depends on."""
