"""What the diet supplies a day, food by food and supplement by supplement."""

from collections.abc import Iterator

import numpy as np

from baskwell.evidence.rows.foods import Food
from baskwell.science.dosing.result import Entry, Origin
from baskwell.science.dosing.substances import Substance
from baskwell.science.dosing.tell import figure
from baskwell.science.draws import Draws, summarise
from baskwell.science.history.diet_recall import DietRecall
from baskwell.science.history.diet_recall.plate import ROW, WATER

G_PER_KG = 1000.0
ALL_WAYS = ("added", "fortified", "food")
FORTIFIED = ("complete_feed", "pet_food")
NOTHING = 1e-9


def eaten_dry_kg(diet: DietRecall) -> Draws:
    """Dry matter eaten a day in kg, supplements that weigh included, shape ``(n_draws,)``."""
    foods = np.sum([item.as_fed_share for item in diet.items if not item.is_supplement], axis=0)
    as_fed = diet.eaten_g_per_day / np.maximum(foods, NOTHING)
    return np.asarray(as_fed * (1.0 - diet.mixture.per_kg[WATER] / G_PER_KG) / G_PER_KG)


def supplied(diet: DietRecall, substance: Substance) -> tuple[Entry, ...]:
    """One entry for each food and supplement that brings the substance, in its unit a day."""
    dry = eaten_dry_kg(diet)
    return tuple(
        _entry(name, food, is_supplement, per_kg * dry, substance)
        for name, food, is_supplement, per_kg in _parts(diet, substance)
        if float(per_kg.max()) > NOTHING
    )


def total(entries: tuple[Entry, ...], counts: str | None, n_draws: int) -> Draws:
    """All that goes on, added up a day, of the entries that count in one way; None = of all."""
    lasting = [entry for entry in entries if entry.per_day is not None]
    counted = [e.per_day for e in lasting if e.per_day is not None and (counts is None or counts in e.counts)]
    return np.sum(counted, axis=0) if counted else np.zeros(n_draws)


def ways_of(food: Food | None, is_supplement: bool, nutrient: str) -> tuple[str, ...]:
    """In which ways of counting a food counts (limits.csv, ``applies_to``).

    Supplements, liver and oils count in every way, fortified feeds where feeds count, and the retinol of
    whole vertebrate prey in none (safety README).

    >>> ways_of(None, True, "vitamin_A")
    ('added', 'fortified', 'food')
    """
    if is_supplement or food is None or food.group == "oil" or "high_vitamin_a" in food.flags:
        return ALL_WAYS
    if food.group == "whole_prey" and nutrient == "vitamin_A":
        return ()
    return ("fortified", "food") if food.group in FORTIFIED else ("food",)


def _parts(diet: DietRecall, substance: Substance) -> Iterator[tuple[str, Food | None, bool, Draws]]:
    """Name, food, whether it is a supplement, and amount per kg of dry matter of the whole diet."""
    for item in diet.items:
        held = diet.mixture.brought[item.key][ROW[substance.column]] * substance.per_column
        portions = [p for p in diet.mixture.portions if p.key == item.key]
        if item.is_supplement or len(portions) < 2:
            yield item.name, portions[0].food if portions else None, item.is_supplement, held
            continue
        weights = [p.as_fed * (getattr(p.food, substance.column) or 0.0) for p in portions]
        whole = np.sum(weights, axis=0)
        for portion, weight in zip(portions, weights, strict=True):
            even = np.full_like(whole, 1.0 / len(portions))
            share = np.where(whole > 0, weight / np.where(whole > 0, whole, 1.0), even)
            yield portion.food.name, portion.food, False, held * share


def _entry(name: str, food: Food | None, is_supplement: bool, per_day: Draws, substance: Substance) -> Entry:
    ways = ways_of(food, is_supplement, substance.nutrient)
    got = summarise(per_day)
    exempt = "" if ways else "; whole prey, not counted towards any limit"
    goes_on = " (counted as if it goes on; say when it stopped)" if is_supplement else ""
    much = f"{figure(got.median)} {substance.unit} a day ({figure(got.low)}-{figure(got.high)})"
    origin: Origin = "supplement" if is_supplement else "food"
    return Entry(
        origin, name, "oral", None, 1.0, ways, True, got, f"{name}: {much}{exempt}{goes_on}.", per_day
    )
