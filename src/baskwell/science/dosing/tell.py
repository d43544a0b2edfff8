"""Figures and limits in words."""

import math

from baskwell.science.dosing.result import Standing
from baskwell.science.draws import Draws

OVER, MAY_BE_OVER = 0.8, 0.2  # four in five, as everywhere in this tool


def figure(value: float) -> str:
    """A number to three figures, thousands marked.

    >>> figure(25000.0), figure(0.4), figure(12.5), figure(0.0)
    ('25,000', '0.4', '12.5', '0')
    """
    if value == 0 or not math.isfinite(value):
        return "0" if value == 0 else "no number"
    digits = 2 - math.floor(math.log10(abs(value)))
    rounded = round(value, digits)
    return f"{rounded:,.0f}" if digits <= 0 else f"{rounded:,.{digits}f}".rstrip("0").rstrip(".")


def down(value: float) -> str:
    """As ``figure``, cut off instead of rounded: for what may be given at the most.

    >>> down(78.49), down(0.0)
    ('78.4', '0')
    """
    if value <= 0 or not math.isfinite(value):
        return "0"
    digits = 2 - math.floor(math.log10(value))
    scale = 10.0**digits
    return figure(math.floor(value * scale * (1 + 1e-12)) / scale)


def standing(chance: float | None) -> Standing:
    """A chance of being over a limit in words.

    >>> standing(0.9), standing(0.5), standing(0.1), standing(None)
    ('over', 'may be over', 'within', 'not known')
    """
    if chance is None:
        return "not known"
    if chance >= OVER:
        return "over"
    return "may be over" if chance >= MAY_BE_OVER else "within"


def chance_over(draws: Draws, limit: float) -> float:
    """Share of the possible worlds in which a limit is passed."""
    return float((draws > limit).mean())
