"""Tone: the darkness answer."""
