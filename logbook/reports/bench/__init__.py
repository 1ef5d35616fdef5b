"""What is asked beside the printer: how it stands, what waits, what a print was."""
