"""What a label says of the recipe, as limits and likelihoods of ratios of its shares."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from baskwell.science.history.label.guarantees import Guarantee
from baskwell.science.history.label.names import Ingredient

Array = NDArray[np.float64]

DRIED_BELOW_PCT = 20.0  # common practice: dry feeds are sold at 6-14 % water, canned ones at 60-82 %
USUAL_DRY_MAX_PCT = 12.0  # common practice: the moisture maximum printed on dry feeds
LEAST_DRY_PCT = 2.0  # judgement: no dry feed is drier
PASSED_BY = 3.0  # judgement: no share is more than three times its usual maximum
STATED_SD = 0.02  # judgement: SD of mixing about a printed percentage, as a share of it
PASSED_SD = 0.1  # "rarely" read as one time in ten: SD of passing a usual maximum, as a share of it


@dataclass(frozen=True)
class Clue:
    """One statement about the recipe: likely between ``low`` and ``high``, falling off beyond.

    The likelihood is 1 from ``low`` to ``high`` and normal with ``sd`` outside; nothing lies outside
    ``least`` to ``most``. It speaks of a nutrient of the product (``nutrient``, per 100 g as sold) or of
    the share of an ingredient (``ingredient``, in percent as added).
    """

    name: str
    low: float
    high: float
    sd: float
    least: float
    most: float
    nutrient: str = ""
    ingredient: int = -1
    guarantee: Guarantee | None = None
    soft: bool = False

    def loosened(self, below: float, above: float) -> "Clue":
        """The same clue with its limits, and what is likely, moved out by so much."""
        return replace(
            self,
            least=self.least - below,
            low=self.low - below if below > 0 else self.low,
            high=self.high + above if above > 0 else self.high,
            most=self.most + above,
        )


def is_wet(ingredients: Sequence[Ingredient], guarantees: Sequence[Guarantee]) -> bool:
    """Whether the feed keeps the water it is mixed with (canned, or sold moist).

    A feed above 20 % moisture, or with water on its list and no lower moisture printed.

    >>> is_wet([Ingredient("water", "water")], []), is_wet([Ingredient("oats", "oats")], [])
    (True, False)
    """
    printed = [item.printed for item in guarantees if item.nutrient == "water_g" and item.row.side != "min"]
    if printed:
        return max(printed) > DRIED_BELOW_PCT
    return any(item.material_id in ("water", "broth") for item in ingredients)


def product_clues(guarantees: Sequence[Guarantee], wet: bool) -> Iterator[Clue]:
    """Clues of the guarantees that the ingredients must meet; moisture only where it is not dried off."""
    for item in guarantees:
        if item.row.supplied_by != "ingredients" or (item.nutrient == "water_g" and not wet):
            continue
        least, most = item.limits
        likely = min(max(item.likely, least), most)
        yield Clue(item.row.stem, likely, likely, item.spread, least, most, item.nutrient, guarantee=item)


def share_clues(ingredients: Sequence[Ingredient], salt_marker: bool = True) -> Iterator[Clue]:
    """Clues of single shares: printed percentages, and usual maxima of what is added in small amounts.

    A usual maximum bounds everything listed after it, so one that is not below an earlier one is left
    out. ``salt_marker`` False leaves out the practice that everything after salt is below 1 %.
    """
    lowest = 100.0
    for i, item in enumerate(ingredients):
        if item.stated is not None:
            low, high = item.stated
            sd = max(0.05, STATED_SD * low)
            yield Clue(item.printed, low, high, sd, low * 0.8, min(100.0, high * 1.2), ingredient=i)
            continue
        usual = item.usual_max_pct
        if usual is None or usual >= lowest or (item.material_id == "table_salt" and not salt_marker):
            continue
        lowest = usual
        most = min(100.0, PASSED_BY * usual)
        yield Clue(item.printed, 0.0, usual, PASSED_SD * usual, -1.0, most, ingredient=i, soft=True)
