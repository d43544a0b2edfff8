"""The diet as recalled: what the other parts of a review read."""

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from baskwell.science.draws import Draws, Summary
from baskwell.science.history.diet_recall.mixture import Mixture
from baskwell.science.history.diet_recall.plate import Chosen
from baskwell.science.history.finding import Finding

NEARLY_ALL = 0.95  # share of the food, and of the possible worlds, from which a diet counts as one thing


@dataclass(frozen=True)
class RecalledItem:
    """One line of the history: shares of the diet as fed and of its dry matter, each (n_draws,).

    ``food_ids`` are the foods it was read as; a feed known by its label only has its own key there.
    """

    key: str
    name: str
    food_ids: tuple[str, ...]
    is_supplement: bool
    as_fed_share: Draws = field(repr=False, compare=False)
    dry_share: Draws = field(repr=False, compare=False)


@dataclass(frozen=True)
class Contribution:
    """How much of one quantity a line brought, beside how much of the dry matter it was."""

    finding_id: str
    key: str
    name: str
    share: Summary
    dry_share: Summary

    @property
    def role(self) -> str:
        """``carries`` (brings clearly more than its part), ``dilutes`` (clearly less), or ``even``."""
        if self.share.median > 1.5 * self.dry_share.median:
            return "carries"
        return "dilutes" if self.share.median < 0.5 * self.dry_share.median else "even"


@dataclass(frozen=True)
class DietRecall:
    """What the animal was fed, as far as it was told, in ``n_draws`` possible worlds.

    ``per_kg_dm`` maps each finding id to its draws per kg of dry matter (in the finding's unit),
    ``per_1000_kcal`` to amounts per 1000 kcal of metabolisable energy (the same unit without "per kg dry
    matter": g for per cent, IU, mg). ``group_dry_shares`` and ``group_as_fed_shares`` map the group words
    of the case file to shares; the two bases are not interchangeable. ``earlier`` names foods of an earlier
    keeper or time, which are not counted.
    """

    items: tuple[RecalledItem, ...]
    per_kg_dm: Mapping[str, Draws] = field(repr=False, compare=False)
    per_1000_kcal: Mapping[str, Draws] = field(repr=False, compare=False)
    group_dry_shares: Mapping[str, Draws] = field(repr=False, compare=False)
    group_as_fed_shares: Mapping[str, Draws] = field(repr=False, compare=False)
    contributions: tuple[Contribution, ...]
    findings: tuple[Finding, ...]
    gaps: tuple[str, ...]
    earlier: tuple[str, ...]
    eaten_g_per_day: Draws = field(repr=False, compare=False)
    mixture: Mixture = field(repr=False, compare=False)

    @property
    def n_items(self) -> int:
        """How many lines of food were told of; supplements are not counted."""
        return sum(not item.is_supplement for item in self.items)

    @property
    def eats_whole_prey_only(self) -> bool:
        """Whether whole vertebrate prey is the whole diet in nearly every possible world."""
        return whole_prey_only(self.mixture)

    def item_names(self) -> tuple[str, ...]:
        """The lines in words, in the order of the history."""
        return tuple(item.name for item in self.items)

    def share_of(self, chosen: Chosen) -> Draws:
        """Share of the dry matter from the foods for which ``chosen`` holds, shape ``(n_draws,)``."""
        return self.mixture.dry_share(chosen)

    def as_fed_share_of(self, chosen: Chosen) -> Draws:
        """The same share of the weight as fed."""
        return self.mixture.as_fed_share(chosen)

    def item_shares_as_fed(self) -> Mapping[str, Draws]:
        """Share of the weight as fed by each food told of, by food, label or group id; no supplements."""
        return {item.key: item.as_fed_share for item in self.items if not item.is_supplement}


def whole_prey_only(mixture: Mixture) -> bool:
    """Whether whole vertebrate prey makes up nearly all of the food in nearly every possible world."""
    prey = mixture.as_fed_share(lambda food: food.group == "whole_prey")
    return bool(np.mean(prey >= NEARLY_ALL) >= NEARLY_ALL)
