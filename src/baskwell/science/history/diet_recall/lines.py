"""From a line of the history to what it was made of: a food, a labelled feed, or a group's usual foods."""

from collections.abc import Mapping, Sequence

import numpy as np

from baskwell.evidence.rows.diet import FeedDensity, FoodGroup, GroupFood
from baskwell.science.case.model import DietItem
from baskwell.science.draws import Draws, pert
from baskwell.science.history.diet_recall.plate import (
    NUTRIENTS,
    ROW,
    WATER,
    WHOLE,
    Array,
    Larder,
    Part,
    Plate,
    dried,
    nameless,
    raised,
    weighted_shares,
)
from baskwell.science.history.diet_recall.priors import Priors
from baskwell.science.history.label import LabelReading

FRESH_ABOVE_WATER = 30.0  # g per 100 g: below this a food of the tables is already dry
PER_KG = 10.0  # hundreds of grams in a kilogram
COMPLETE_FEED = "complete_feed"
PET_FOOD = "pet_food"
GUT_LOADED = {
    "calcium_mg": "gut_load_calcium",
    "retinol_ug": "gut_load_retinol",
    "beta_carotene_ug": "gut_load_carotene",
    "alpha_carotene_ug": "gut_load_carotene",
    "beta_cryptoxanthin_ug": "gut_load_carotene",
}


def foods_named(item: DietItem, priors: Priors) -> tuple[str, ...]:
    """Ids of the foods whose composition a line needs, in the order of the tables."""
    if item.food in priors.evidence.foods:
        return (item.food,)
    return tuple(row.food_id for row in usual_foods(item.food, priors))


def usual_foods(group_word: str, priors: Priors) -> tuple[GroupFood, ...]:
    """The foods that a group word stands for with this animal; empty for complete feeds and labels."""
    rows = priors.evidence.diet_tables.group_foods
    return tuple(row for row in rows if row.group_word == group_word and priors.reaches(row.covers))


def plate_of(
    item: DietItem, share: Draws, larder: Larder, labels: Mapping[str, LabelReading], priors: Priors
) -> Plate:
    """Make the plate of one line of the history.

    ``labels`` holds the label readings of the case. A label that could not be read, and the word
    complete_feed, stand for any feed of the kind made for the animal's way of feeding.
    """
    parts = _parts(item, larder, labels, priors)
    parts = tuple(_as_offered(part, item, priors) for part in parts)
    return Plate(item.food, name_of(item.food, priors), share, parts, _question(item, labels, priors))


def name_of(key: str, priors: Priors) -> str:
    """A food, group or label in words."""
    food = priors.evidence.foods.get(key)
    if food is not None:
        return food.name
    group = group_of_word(key, priors)
    return group.name if group is not None else key.replace("_", " ")


def short(name: str) -> str:
    """A food's name as one says it: without what follows the first comma or bracket.

    >>> short("Collard greens, raw")
    'collard greens'
    """
    head = name.split(",", maxsplit=1)[0].split(" (", maxsplit=1)[0]
    return head[:1].lower() + head[1:]


def group_of_word(word: str, priors: Priors) -> FoodGroup | None:
    """The row of a group word; None for food ids and labels."""
    rows = priors.evidence.diet_tables.food_groups
    return next((row for row in rows if row.group_word == word), None)


def is_readable(reading: LabelReading | None) -> bool:
    """Whether a label gave draws for anything."""
    return reading is not None and any(nutrient.draws is not None for nutrient in reading.nutrients)


def _parts(
    item: DietItem, larder: Larder, labels: Mapping[str, LabelReading], priors: Priors
) -> tuple[Part, ...]:
    whole = priors.constant(1.0)
    if item.food in larder.cells:
        return (larder.part(item.food, whole),)
    usual = usual_foods(item.food, priors)
    if usual:
        return _mixture(usual, larder, priors)
    return (_feed(item.food, labels.get(item.food), priors),)


def _mixture(usual: Sequence[GroupFood], larder: Larder, priors: Priors) -> tuple[Part, ...]:
    weights = [row.weight for row in usual]
    shares = weighted_shares(weights, priors.of("group_concentration"), priors.rng)
    return tuple(larder.part(row.food_id, share) for row, share in zip(usual, shares, strict=True))


def _feed(key: str, reading: LabelReading | None, priors: Priors) -> Part:
    """A complete feed: by its label where that could be read, otherwise any feed of its kind."""
    per_kg = _usual_feed(priors)
    borrowed = np.ones(len(NUTRIENTS), dtype=np.bool_)
    for nutrient in reading.nutrients if reading is not None else ():
        if nutrient.nutrient in ROW and nutrient.draws is not None:
            per_kg[ROW[nutrient.nutrient]] = nutrient.draws
            borrowed[ROW[nutrient.nutrient]] = False
    water = per_kg[WATER] / PER_KG
    content = per_kg / PER_KG * ((WHOLE - water) / WHOLE)
    content[WATER] = water
    return Part(nameless(key, name_of(key, priors), COMPLETE_FEED), priors.constant(1.0), content, borrowed)


def _usual_feed(priors: Priors) -> Array:
    """Draws per kg of dry matter (water: per kg as sold) of a feed made for this way of feeding."""
    rows = [row for row in priors.evidence.diet_tables.feed_densities if priors.reaches(row.covers)]
    return np.array(
        [_feed_nutrient([row for row in rows if row.nutrient == name], priors) for name in NUTRIENTS]
    )


def _feed_nutrient(rows: Sequence[FeedDensity], priors: Priors) -> Draws:
    """One kind of feed, or an even mixture of kinds where the taxon leaves the way of feeding open."""
    drawn = np.array([pert(priors.rng, row.low, row.mode, row.high, priors.n_draws) for row in rows])
    picked = priors.rng.integers(len(rows), size=priors.n_draws)
    return np.asarray(drawn[picked, np.arange(priors.n_draws)])


def _as_offered(part: Part, item: DietItem, priors: Priors) -> Part:
    """Apply what the line says of its form: dried, or insects fed before use."""
    if item.gut_loaded and part.food.group == "invertebrate":
        part = raised(part, {nutrient: priors.of(prior) for nutrient, prior in GUT_LOADED.items()})
    if item.form == "dry" and (part.food.water_g or 0.0) > FRESH_ABOVE_WATER:
        part = dried(part, priors.of("water_when_dried"))
    return part


def _question(item: DietItem, labels: Mapping[str, LabelReading], priors: Priors) -> str:
    group, food = group_of_word(item.food, priors), priors.evidence.foods.get(item.food)
    name = short(name_of(item.food, priors))
    if group is not None:
        return group.question
    if food.group == PET_FOOD if food is not None else not is_readable(labels.get(item.food)):
        return f"What is printed on the pack of {name}: ingredients in order, and the analysis?"
    return f"How much of all its food was {name}?" if item.amount is None else ""
