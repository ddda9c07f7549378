"""The signal path from talker to listener."""
