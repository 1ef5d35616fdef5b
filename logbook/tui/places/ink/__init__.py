"""Ink: levels, cartridges, changeovers and their waste."""
