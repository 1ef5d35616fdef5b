"""General methods that the four answers stand on, each with its published source."""
