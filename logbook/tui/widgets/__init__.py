"""Widgets that places and forms share."""
