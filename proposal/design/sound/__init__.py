"""The way of sound from talker to listener."""
