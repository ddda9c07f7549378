"""Reels: what is cut from which."""
