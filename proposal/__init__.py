"""From a client's brief to a complete proposal for wireless conference-microphone systems."""

__version__ = "0.1.0"
