"""Fields of forms."""
