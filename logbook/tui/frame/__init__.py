"""What stays on the screen in every place: the strip of places, the line that never leaves, hints and help."""
