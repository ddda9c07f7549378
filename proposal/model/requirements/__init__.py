"""What the client has asked for, and what answers it."""
