"""Vitamins and trace elements that a premix adds: printed, usual, or none; and what storage leaves."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from baskwell.evidence.catalogue import Evidence
from baskwell.evidence.rows.labels import PremixSupply
from baskwell.science.composition import storage_left
from baskwell.science.draws import Draws, pert
from baskwell.science.history.label.guarantees import Guarantee
from baskwell.science.history.label.names import Ingredient
from baskwell.science.history.label.words import in_label_units, nutrient_name

Array = NDArray[np.float64]

RARELY_ABOVE = 3.0  # standard deviations above the likely content at which the band of a guarantee ends


@dataclass(frozen=True, eq=False)
class Supply:
    """What the premix makes of one nutrient, per kg dry matter, before storage.

    The content is ``max(natural, amount)`` where the amount is a printed total, else the sum of the two.
    ``kept`` (draws,) is the part left when fed; ``low`` and ``high`` bound the amount. ``printed`` tells
    whether the label says anything of it.
    """

    nutrient: str
    amount: Draws
    low: float
    high: float
    kept: Draws
    is_total: bool
    printed: bool

    def content(self, natural: Array) -> Array:
        """Content when fed, from what the ingredients hold, (draws,)."""
        packed = np.maximum(natural, self.amount) if self.is_total else natural + self.amount
        return np.asarray(packed * self.kept)

    def band(self, lowest: float, highest: float) -> tuple[float, float]:
        """Lowest and highest content when fed, from the band of the ingredients."""
        low = max(lowest, self.low) if self.is_total else lowest + self.low
        high = max(highest, self.high) if self.is_total else highest + self.high
        return low * float(self.kept.min()), high * float(self.kept.max())


def supplies_of(
    ingredients: Sequence[Ingredient],
    guarantees: Sequence[Guarantee],
    evidence: Evidence,
    dry_part: Array,
    rng: np.random.Generator,
) -> dict[str, Supply]:
    """The supply of every nutrient that is guaranteed as added, or that an ingredient is added for.

    ``dry_part`` (draws,) is the dry matter of the feed as sold, a fraction.
    """
    adds = {word for item in ingredients for word in item.adds}
    printed = {item.nutrient: item for item in guarantees if item.row.supplied_by != "ingredients"}
    found: dict[str, Supply] = {}
    for row in evidence.feed_labels.premix_supply:
        said = printed.get(row.nutrient)
        kept = storage_left(evidence.composition_priors, row.nutrient, rng, dry_part.size)
        if said is not None and said.row.side != "max":
            found[row.nutrient] = _printed(said, kept, dry_part, rng)
        elif row.nutrient in adds or row.premix in adds:
            found[row.nutrient] = _usual(row, kept, rng)
    return found


def _printed(said: Guarantee, kept: Draws, dry_part: Array, rng: np.random.Generator) -> Supply:
    """A printed content: a least total, or (printed as a value) what was added; zero adds nothing."""
    least, most = said.limits
    high = min(most, said.likely + RARELY_ABOVE * said.spread)
    amount = np.clip(said.likely + said.spread * rng.standard_normal(kept.size), least, high)
    amount = amount if said.printed > 0 else np.zeros_like(amount)
    dry = 10.0 / dry_part
    is_total = said.row.side == "min" and said.printed > 0
    return Supply(
        said.nutrient, amount * dry, least * float(dry.min()), high * float(dry.max()), kept, is_total, True
    )


def _usual(row: PremixSupply, kept: Draws, rng: np.random.Generator) -> Supply:
    """An amount that the label does not tell: what premixes usually add."""
    amount = pert(rng, row.low_per_kg, row.mode_per_kg, row.high_per_kg, kept.size)
    return Supply(row.nutrient, amount, row.low_per_kg, row.high_per_kg, kept, False, False)


def not_told(supplies: Iterable[Supply]) -> tuple[str, ...]:
    """Sentences on what no label tells of these supplies."""
    told = [supply for supply in supplies if supply.printed]
    fading = [nutrient_name(s.nutrient) for s in told if s.is_total and s.kept.min() < 1.0]
    silent = [_range_told(supply) for supply in supplies if not supply.printed]
    return (
        *(
            [f"{_listed(fading)}: printed as the least at packing; storage takes an unknown part."]
            * bool(fading)
        ),
        *(
            [f"How much is added, not being printed: {_listed(silent)} per kg are taken as usual."]
            * bool(silent)
        ),
    )


def _range_told(supply: Supply) -> str:
    low, high = (in_label_units(supply.nutrient, amount) for amount in (supply.low, supply.high))
    return f"{nutrient_name(supply.nutrient)} {low} to {high}"


def _listed(words: Sequence[str]) -> str:
    return ", ".join(words)
