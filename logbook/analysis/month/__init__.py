"""What a month made and cost, and what drifted."""
