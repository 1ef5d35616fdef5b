"""Which settings print darker than the screen: the model of what was seen, and what follows from it."""
