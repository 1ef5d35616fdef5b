"""Forms for what stands on the shelf, and the set-up."""
