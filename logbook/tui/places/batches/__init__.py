"""Batches: orders, the plan, the map of the standing rule."""
