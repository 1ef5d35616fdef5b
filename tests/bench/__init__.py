"""What takes minutes: ratios against a named reference in one run, and long simulations. Not part of the timed suite."""
