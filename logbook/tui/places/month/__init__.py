"""Month: the review."""
