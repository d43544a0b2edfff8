"""What one line of the history was made of: foods, their shares within it, and what they hold."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, fields

import numpy as np
from numpy.typing import NDArray

from baskwell.evidence.rows.foods import Food
from baskwell.science.composition import Composition
from baskwell.science.draws import Draws

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]
Chosen = Callable[[Food], bool]

NUTRIENTS = (
    "water_g", "protein_g", "fat_g", "crude_fibre_g", "ash_g", "calcium_mg", "phosphorus_mg", "retinol_ug",
    "beta_carotene_ug", "alpha_carotene_ug", "beta_cryptoxanthin_ug", "vitamin_d3_iu", "vitamin_e_mg",
    "thiamin_mg", "iodine_ug", "selenium_ug", "oxalate_mg",
)  # fmt: skip
ROW = {name: i for i, name in enumerate(NUTRIENTS)}
WATER = ROW["water_g"]
WHOLE = 100.0


@dataclass(frozen=True)
class Part:
    """One food within a line of the history.

    ``within`` (n_draws,) is its share of the line as fed; ``content`` (n_nutrients, n_draws) what it holds
    per 100 g as fed in the units of ``NUTRIENTS``; ``borrowed`` marks nutrients known only from other foods.
    """

    food: Food
    within: Draws = field(repr=False)
    content: Array = field(repr=False)
    borrowed: Flags = field(repr=False)


@dataclass(frozen=True)
class Plate:
    """One line of the history: its share of what was offered, as fed, and its parts.

    ``share`` (n_draws,) is grams per gram of food, so supplements come on top of the foods' one gram.
    ``question`` asks for what would narrow this line most; empty where it is told well. What does not
    ``weigh`` (a dose from a capsule) adds nutrients but no food.
    """

    key: str
    name: str
    share: Draws = field(repr=False)
    parts: tuple[Part, ...]
    question: str = ""
    is_supplement: bool = False
    weighs: bool = True

    def per_gram_offered(self) -> Array:
        """What the line brings to 100 g of offered food, shape (n_nutrients, n_draws)."""
        total = np.zeros_like(self.parts[0].content)
        for part in self.parts:
            total += part.content * part.within
        return total * self.share


@dataclass(frozen=True)
class Larder:
    """The composition draws of every food that a history names, made once for all its lines."""

    foods: Mapping[str, Food]
    cells: Mapping[str, Array] = field(repr=False)
    borrowed: Mapping[str, Flags] = field(repr=False)

    @classmethod
    def stocked(cls, foods: Mapping[str, Food], composition: Composition) -> "Larder":
        """Take the draws apart by food; ``composition`` must hold ``NUTRIENTS`` in their order."""
        cells = composition.values.transpose(1, 2, 0)
        return cls(
            foods=foods,
            cells={food: cells[i] for i, food in enumerate(composition.food_ids)},
            borrowed={food: composition.borrowed[i] for i, food in enumerate(composition.food_ids)},
        )

    def part(self, food_id: str, within: Draws) -> Part:
        """The food as it stands in the tables."""
        return Part(self.foods[food_id], within, self.cells[food_id], self.borrowed[food_id])


def dried(part: Part, water_g: Draws) -> Part:
    """The same food with its water taken out to ``water_g`` per 100 g; nothing else is lost.

    >>> import numpy as np
    >>> food = nameless("herb", "herb", "leafy_green")
    >>> fresh = np.zeros((len(NUTRIENTS), 1)); fresh[WATER], fresh[ROW["protein_g"]] = 80.0, 4.0
    >>> got = dried(Part(food, np.ones(1), fresh, np.zeros(len(NUTRIENTS), bool)), np.array([10.0]))
    >>> float(got.content[ROW["protein_g"], 0])     # 4 g in 20 g of dry matter, now in 90 g
    18.0
    """
    content = part.content * ((WHOLE - water_g) / (WHOLE - part.content[WATER]))
    content[WATER] = water_g
    return Part(part.food, part.within, content, part.borrowed)


def raised(part: Part, factors: Mapping[str, Draws]) -> Part:
    """The same food with some nutrients multiplied (insects fed before use)."""
    content = part.content.copy()
    for nutrient, factor in factors.items():
        content[ROW[nutrient]] *= factor
    return Part(part.food, part.within, content, part.borrowed)


def nameless(food_id: str, name: str, group: str) -> Food:
    """A food row that states only what it is, for feeds and powders outside ``foods.csv``."""
    blank = {item.name: None for item in fields(Food)}
    text = {item.name: "" for item in fields(Food) if item.type is str}
    values = {**blank, **text, "food_id": food_id, "name": name, "group": group, "flags": ("processed",)}
    return Food(**values)  # type: ignore[arg-type]  # every column is set by name just above


def weighted_shares(
    weights: Sequence[float], concentration: Draws, rng: np.random.Generator
) -> tuple[Draws, ...]:
    """Dirichlet shares around ``weights`` with a drawn concentration; each of shape (n_draws,).

    >>> rng = np.random.default_rng(1)
    >>> a, b = weighted_shares([3.0, 1.0], np.full(50_000, 4.0), rng)
    >>> round(float(a.mean()), 2), bool(np.allclose(a + b, 1.0))
    (0.75, True)
    """
    mean = np.array(weights) / np.sum(weights)
    gammas = rng.standard_gamma(mean[:, None] * concentration[None, :])
    total = gammas.sum(axis=0)
    shares = np.where(total > 0, gammas / np.where(total > 0, total, 1.0), mean[:, None])
    return tuple(shares)
