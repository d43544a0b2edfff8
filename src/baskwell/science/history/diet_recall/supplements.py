"""What powders, drops and capsules added to the food, where that can be told.

A supplement comes on top of the food. Its unknown strength or amount is a wide prior of
``history/supplement_contents.csv`` and ``diet_priors.csv``, and a question; never nothing.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from baskwell.evidence.rows.nutrition import Agent
from baskwell.science.case.model import Amount, DietItem, Supplement
from baskwell.science.draws import Draws, pert
from baskwell.science.history.diet_recall.plate import (
    NUTRIENTS,
    ROW,
    WHOLE,
    Array,
    Larder,
    Part,
    Plate,
    nameless,
)
from baskwell.science.history.diet_recall.priors import Priors
from baskwell.science.history.diet_recall.strength import Strength, read_strength

WEEK = 7.0
UG_PER_IU = {"retinol_ug": 0.3, "beta_carotene_ug": 0.6}  # README foods, Units and conversions
MG_PER_IU = {"vitamin_e_mg": 0.67}  # 1 IU of the natural form, README foods
STATED_FOR = {  # what a printed strength of an agent speaks of
    "vitamin_a": "retinol_ug",
    "vitamin_d3": "vitamin_d3_iu",
    "vitamin_e": "vitamin_e_mg",
    "beta_carotene": "beta_carotene_ug",
    "thiamin": "thiamin_mg",
    "calcium": "calcium_mg",
    "calcium_carbonate": "calcium_mg",
    "calcium_d3": "vitamin_d3_iu",
    "kelp": "iodine_ug",
}
FOOD_IDS = {
    "liver": "chicken_liver",
    "bone_meal": "bone_meal",
}  # agents whose food the agents table leaves open
SCRAPED = ("cuttlebone",)
OILS = ("cod_liver_oil", "fish_oil")
VITAMIN_ROWS = [row for name, row in ROW.items() if name not in ("calcium_mg", "phosphorus_mg")]
COUNTED_KINDS = ("vitamin", "mineral", "mixture", "food_supplement")
STRENGTH_MATTERS = ("multivitamin", "vitamin_a", "vitamin_d3", "calcium_d3", "calcium", "mineral_powder")
POWDER_WORDS = ("dust", "pinch")


@dataclass(frozen=True)
class Added:
    """The plates of the supplements, and what could not be counted, in sentences."""

    plates: tuple[Plate, ...] = field(repr=False)
    gaps: tuple[str, ...]


def is_powder(item: DietItem, priors: Priors) -> bool:
    """Whether a line of the diet is a supplement on top of the food: a salt, cuttlebone, or a dusting."""
    food = priors.evidence.foods.get(item.food)
    told = item.amount is not None and (item.amount.grams is not None or item.amount.share is not None)
    dusted = item.amount is not None and item.amount.word in POWDER_WORDS
    return dusted or (food is not None and food.group == "supplement" and not told)


def as_supplement(item: DietItem) -> Supplement:
    """The same line written as a supplement."""
    return Supplement(agent=item.food, amount=item.amount, days_per_week=item.days_per_week)


def foods_of(rows: Sequence[Supplement], priors: Priors) -> tuple[str, ...]:
    """Ids of the foods whose composition the supplements need."""
    ids = (_food_id(row.agent, priors) for row in rows)
    return tuple(food for food in ids if food)


def add_supplements(rows: Sequence[Supplement], larder: Larder, eaten_g: Draws, priors: Priors) -> Added:
    """Make the plates of supplements; ``eaten_g`` (n_draws,) is the food eaten a day, as fed."""
    plates: list[Plate] = []
    gaps: list[str] = []
    for row in rows:
        agent = priors.evidence.agents.get(row.agent)
        name = _name(row.agent, agent, priors)
        reason = _not_counted(row, agent, name)
        if reason is not None:
            gaps.extend([reason] if reason else [])
            continue
        plate = _plate(row, name, larder, eaten_g, priors)
        if plate is None:
            gaps.append(f"What {name} brought could not be counted: its content is not known.")
        else:
            plates.append(plate)
            gaps.extend(_stands_in(row, name))
    return Added(tuple(plates), tuple(gaps))


def _name(agent_id: str, agent: Agent | None, priors: Priors) -> str:
    food = priors.evidence.foods.get(agent_id)
    return agent.name if agent is not None else food.name if food is not None else agent_id.replace("_", " ")


def _food_id(agent_id: str, priors: Priors) -> str:
    if agent_id in priors.evidence.foods:
        return agent_id
    agent = priors.evidence.agents.get(agent_id)
    return (agent.food_id if agent is not None else "") or FOOD_IDS.get(agent_id, "")


def _not_counted(row: Supplement, agent: Agent | None, name: str) -> str | None:
    """Why a supplement is left out: "" for nothing worth telling; None where it counts."""
    if row.days_per_week is not None and row.days_per_week.high == 0:
        return ""
    if agent is not None and agent.kind == "unknown":
        return "A supplement of unknown kind was given; it could not be counted. What is printed on it?"
    if agent is not None and agent.kind not in COUNTED_KINDS:
        return ""
    if row.stopped_months_ago is not None and (row.stopped_months_ago.low or 0.0) > 0:
        return f"{_capital(name)} was stopped before; what it brought is not counted in the diet."
    return None


def _stands_in(row: Supplement, name: str) -> list[str]:
    plain = row.strength or row.agent not in STRENGTH_MATTERS
    return [] if plain else [f"How strong the {name} was is not told; the range of what is sold stands in."]


def _capital(name: str) -> str:
    return name[:1].upper() + name[1:]


def _plate(row: Supplement, name: str, larder: Larder, eaten_g: Draws, priors: Priors) -> Plate | None:
    strength = read_strength(row.strength)
    food_id = _food_id(row.agent, priors)
    often = _days(row, priors) / WEEK
    question = _question(row, name, strength)
    if food_id:
        part = larder.part(food_id, priors.constant(1.0))
        return Plate(row.agent, name, _grams_per_gram(row, eaten_g, priors) * often, (part,), question, True)
    per_gram, per_dose = _contents(row, strength, priors)
    if per_gram is None and per_dose is None:
        return None
    share = _grams_per_gram(row, eaten_g, priors) * often if per_gram is not None else priors.constant(1.0)
    content = _per_100(per_gram, per_dose, often, eaten_g, priors)
    food = nameless(row.agent, name, "supplement")
    blank = np.zeros(len(NUTRIENTS), dtype=np.bool_)
    part = Part(food, priors.constant(1.0), content, blank)
    return Plate(row.agent, name, share, (part,), question, True, weighs=per_gram is not None)


def _days(row: Supplement, priors: Priors) -> Draws:
    if row.days_per_week is None:
        return priors.of("supplement_days")
    return priors.told(row.days_per_week, 0.0, WEEK)


def _contents(
    row: Supplement, strength: Strength | None, priors: Priors
) -> tuple[Array | None, Array | None]:
    """Amounts per gram of product and per dose, each (n_nutrients, n_draws) or None."""
    rows = [c for c in priors.evidence.diet_tables.supplement_contents if c.agent_id == row.agent]
    found: dict[str, Array] = {}
    for content in rows:
        block = found.setdefault(content.basis, np.zeros((len(NUTRIENTS), priors.n_draws)))
        block[ROW[content.nutrient]] = pert(
            priors.rng, content.low, content.mode, content.high, priors.n_draws
        )
    nutrient = STATED_FOR.get(row.agent)
    if strength is not None and nutrient is not None:
        for block in found.values():
            block[ROW[nutrient]] = 0.0
        block = found.setdefault(strength.per, np.zeros((len(NUTRIENTS), priors.n_draws)))
        block[ROW[nutrient]] = _in_table_unit(strength, nutrient)
    if row.times_label_strength is not None:
        times = priors.told(row.times_label_strength, 0.0, 1000.0)
        for block in found.values():
            block[VITAMIN_ROWS] *= times
    kept = {basis: block for basis, block in found.items() if block.any()}
    return kept.get("g"), kept.get("dose")


def _in_table_unit(strength: Strength, nutrient: str) -> float:
    if strength.unit == "IU":
        return strength.amount * UG_PER_IU.get(nutrient, MG_PER_IU.get(nutrient, 1.0))
    if nutrient.endswith("_iu"):
        return strength.amount / 0.025  # 1 IU vitamin D3 = 0.025 ug, README foods
    return strength.amount / (1000.0 if nutrient.endswith("_mg") else 1.0)


def _per_100(
    per_gram: Array | None, per_dose: Array | None, often: Draws, eaten_g: Draws, priors: Priors
) -> Array:
    """Per 100 g of product; a dose is written as if its carrier weighed nothing against the day's food."""
    if per_gram is not None:
        return per_gram * WHOLE
    if per_dose is None:
        return np.zeros((len(NUTRIENTS), priors.n_draws))
    return per_dose * often / eaten_g * WHOLE


def _grams_per_gram(row: Supplement, eaten_g: Draws, priors: Priors) -> Draws:
    """Grams of product per gram of food as fed on a day on which it was given."""
    amount = row.amount or Amount()
    if amount.share is not None:
        return priors.told(amount.share, 0.0, 1.0)
    if amount.grams is not None:
        return priors.told(amount.grams, 0.0, 100.0) / eaten_g
    if amount.word == "pinch":
        return priors.of("pinch_g") / eaten_g
    if amount.word == "dust":
        return priors.of("dust_share")
    if row.agent in SCRAPED:
        return priors.of("scraped_share")
    if row.agent in OILS:
        return priors.of("oil_dose_g") / eaten_g
    return priors.of("powder_share_unknown")


def _question(row: Supplement, name: str, strength: Strength | None) -> str:
    plain = row.agent.startswith("calcium_") and row.agent != "calcium_d3"
    if strength is None and not plain and row.agent not in SCRAPED:
        return f"What strength is printed on the {name}, and how much was given at a time?"
    return "" if row.amount is not None else f"How much {name} was given at a time, and how often?"
