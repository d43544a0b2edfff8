"""Figures and findings of a diet in words that a keeper can use."""

import math
from collections.abc import Sequence

from baskwell.science.draws import Against, Summary
from baskwell.science.history.diet_recall.quantities import Quantity
from baskwell.science.history.finding import Wanted

WORLDS = 20


def figure(value: float) -> str:
    """A number to two figures, three from 10,000 on, with thousands marked.

    >>> figure(912.0), figure(8600.0), figure(0.4567), figure(14900.0), figure(0.0), figure(100.0)
    ('910', '8,600', '0.46', '14,900', '0', '100')
    """
    if value == 0 or not math.isfinite(value):
        return "0" if value == 0 else "not known"
    places = 2 if abs(value) < 10_000 else 3
    digits = places - 1 - math.floor(math.log10(abs(value)))
    rounded = round(value, digits)
    return f"{rounded:,.0f}" if digits <= 0 else f"{rounded:.{digits}f}".rstrip("0").rstrip(".")


def in_worlds(chance: float) -> str:
    """A probability as so many of twenty possible worlds.

    >>> in_worlds(0.96), in_worlds(1.0), in_worlds(0.004)
    ('19 of 20', 'all', 'fewer than 1 of 20')
    """
    count = round(chance * WORLDS)
    if count == WORLDS:
        return "all" if chance > 0.995 else "nearly all"
    return f"{count} of {WORLDS}" if count else f"fewer than 1 of {WORLDS}"


def range_words(wanted: Wanted) -> str:
    """A wanted range in words.

    >>> range_words(Wanted(8600.0, 15000.0, "", ""))
    '8,600-15,000'
    >>> range_words(Wanted(None, 3.0, "", ""))
    'at most 3'
    """
    if wanted.low is None:
        return f"at most {figure(wanted.high or 0.0)}"
    return (
        f"at least {figure(wanted.low)}"
        if wanted.high is None
        else f"{figure(wanted.low)}-{figure(wanted.high)}"
    )


def told(quantity: Quantity, got: Summary, wanted: Wanted | None, chances: Against | None) -> str:
    """One finding in one sentence.

    >>> retinol = Quantity("retinol_iu_per_kg_dm", "Vitamin A", "IU per kg dry matter", "vitamin_A", ())
    >>> told(retinol, Summary(900, 300, 2800), Wanted(8600, 15000, "", ""), Against(0.96, 0.04, 0.0))
    'Vitamin A: about 900 IU per kg dry matter, wanted 8,600-15,000: too low in 19 of 20 possible worlds.'
    """
    amount = f"{quantity.name}: about {figure(got.median)}{_spaced(quantity.unit)}"
    if wanted is None or chances is None:
        return f"{amount}; no wanted level is published for it."
    return f"{amount}, wanted {range_words(wanted)}: {chances_words(chances)}."


def chances_words(chances: Against) -> str:
    """How often too low, right or too high, the likelier first.

    >>> chances_words(Against(0.45, 0.4, 0.15))
    'too low in 9 of 20 possible worlds, too high in 3 of 20'
    """
    wrong = sorted((("too low", chances.below), ("too high", chances.above)), key=lambda pair: -pair[1])
    if chances.inside >= 0.5:
        return f"right in {in_worlds(chances.inside)} possible worlds"
    told_of = [(word, chance) for word, chance in wrong if round(chance * WORLDS) > 0]
    first, *rest = [f"{word} in {in_worlds(chance)}" for word, chance in told_of]
    return ", ".join([f"{first} possible worlds", *rest])


def listed(names: Sequence[str], most: int = 3) -> str:
    """Some names in a row.

    >>> listed(["apple", "kale", "mealworm", "carrot"])
    'apple, kale, mealworm and 1 more'
    """
    shown = list(names[:most])
    more = len(names) - len(shown)
    if more:
        return f"{', '.join(shown)} and {more} more"
    return shown[0] if len(shown) == 1 else f"{', '.join(shown[:-1])} and {shown[-1]}"


def _spaced(unit: str) -> str:
    return unit if unit.startswith("%") and len(unit) == 1 else f" {unit}"
