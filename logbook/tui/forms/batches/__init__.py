"""Forms for orders, the bench and days away."""
