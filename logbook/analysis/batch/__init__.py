"""Whether a matte or a photo batch is due: the plan of least cost, and the standing rule."""
