"""The form that logs a print."""
