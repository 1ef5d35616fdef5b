"""The calculations behind the four answers: plain numpy on columns, no store and no screen."""
