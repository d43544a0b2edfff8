"""Which exposures the animal had.

Facts of the case turned into a belief about every exposure of the evidence.
"""

from baskwell.science.history.exposures.believe import believe_exposures, stated_and_denied

__all__ = ["believe_exposures", "stated_and_denied"]
