"""What a person can do with a key, one small class an action."""
