"""Labels that contradict themselves: which limit cannot be kept, by how much, and the nearest feasible."""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from baskwell.science.history.label.clues import Clue
from baskwell.science.history.label.recipe import Limits, Recipe
from baskwell.science.polytope import OrderedShares, nearest_fit

Array = NDArray[np.float64]

BEYOND = 1.02  # a limit is moved a little further than it lacks, so that the set keeps some room


def reconcile(recipe: Recipe) -> tuple[Recipe, tuple[str, ...], tuple[str, ...]]:
    """Loosen what cannot be kept even by favourable batches.

    Returns the recipe with its clues loosened, the conflicts and the notes, as sentences. Usual maxima
    yield before anything printed, and yield altogether.
    """
    lacking = _lacking(recipe.most_lenient())
    if not lacking:
        return recipe, (), ()
    yielding = {q for q in lacking if recipe.clues[q].soft}
    notes = tuple(_more_than_usual(recipe.clues[q]) for q in sorted(yielding))
    recipe = replace(recipe, clues=tuple(c for q, c in enumerate(recipe.clues) if q not in yielding))
    lacking = _lacking(recipe.most_lenient())
    conflicts = tuple(_sentence(recipe.clues[q], *lacking[q]) for q in sorted(lacking))
    clues = [
        clue.loosened(*(BEYOND * x for x in lacking[q])) if q in lacking else clue
        for q, clue in enumerate(recipe.clues)
    ]
    return replace(recipe, clues=tuple(clues)), conflicts, notes


def _lacking(limits: Limits) -> dict[int, tuple[float, float]]:
    """For each clue that cannot be kept, how far its least is out of reach and its most is passed."""
    misfit = nearest_fit(limits.shape, limits.scales)
    found: dict[int, tuple[float, float]] = {}
    for row, q, excess in zip(limits.rows, limits.owners, misfit.excess, strict=True):
        clue = limits.recipe.clues[q]
        if excess > 1e-6 * max(clue.high, 1e-3):
            solids = limits.recipe.solids(limits.recipe.mean) @ misfit.shares if clue.nutrient else 1.0
            amount = float(excess / solids)
            below, above = found.get(int(q), (0.0, 0.0))
            is_lower = _is_lower(limits, row, int(q))
            found[int(q)] = (below + amount, above) if is_lower else (below, above + amount)
    return found


def _is_lower(limits: Limits, row: Array, q: int) -> bool:
    """The first of a clue's rows is its lower limit where the lower limit can bind."""
    first = limits.rows[np.flatnonzero(limits.owners == q)[0]]
    return limits.recipe.clues[q].least > 0.0 and bool((row == first).all())


def _sentence(clue: Clue, below: float, above: float) -> str:
    said = clue.guarantee
    if said is None:
        where = "in this place of the list"
        return f"The printed share of {clue.name} ({clue.low:.3g} to {clue.high:.3g} %) cannot stand {where}."
    name = said.row.stem.replace("_", " ")
    if below > 0:
        return (
            f"These ingredients in this order cannot reach the printed {name} of {said.printed:g}: "
            f"at most about {said.told(clue.least - below)}, even from rich batches."
        )
    return (
        f"These ingredients in this order cannot keep to the printed {name} of {said.printed:g}: "
        f"at least about {said.told(clue.most + above)}, even from poor batches."
    )


def _more_than_usual(clue: Clue) -> str:
    return f"More {clue.name} than usual is needed to meet the rest of the label."


def feasible_shape(limits: Limits) -> OrderedShares:
    """The polytope, loosened by as little as it takes to hold something."""
    misfit = nearest_fit(limits.shape, limits.scales)
    room = np.where(misfit.excess > 1e-9, BEYOND * misfit.excess + 1e-6 * limits.scales, 0.0)
    return limits.shape.with_limits(room)
