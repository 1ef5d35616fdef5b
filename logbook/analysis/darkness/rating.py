"""The scale on which darkness is read: thirds of a stop."""

import math

STEP_STOPS = 1 / 3
#: Reading in steps alone spreads ratings by this much: step / sqrt(12) (GUM, JCGM 100, F.2.2.1).
ROUNDING_STOPS = STEP_STOPS / math.sqrt(12)
#: The last step either way, which also takes all that lies beyond it.
EXTREME = 6
