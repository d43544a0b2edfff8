"""Labels of a case read: the front door of label inversion."""

from collections.abc import Mapping

import numpy as np

from baskwell.evidence.catalogue import Evidence
from baskwell.science.case.model import Case, Label
from baskwell.science.composition_index import CompositionIndex
from baskwell.science.draws import summarise
from baskwell.science.history.label.archetypes import invert_unknown
from baskwell.science.history.label.guarantees import read_guarantees
from baskwell.science.history.label.inversion import Inversion, LabelTables, Manner, invert
from baskwell.science.history.label.names import Ingredient, read_ingredients
from baskwell.science.history.label.reading import IngredientShare, LabelReading, NutrientReading
from baskwell.science.history.label.words import nutrient_name, nutrient_unit

N_DRAWS = 4000
WORTH_SAYING = 0.05  # part of the dry matter from which an assumption is told
NEVER_KNOWABLE = (
    "The exact recipe: an order of ingredients leaves a range of shares for each.",
    "Whether one raw material is listed under several names to move it down the list.",
    "Batch, age and storage of the bag that was fed.",
)


def read_labels(
    case: Case,
    evidence: Evidence,
    rng: np.random.Generator,
    n_draws: int = N_DRAWS,
    index: CompositionIndex | None = None,
) -> Mapping[str, LabelReading]:
    """Read every label of the case, by label id; an empty mapping where it has none.

    ``index`` may be passed where it is built already. The draws of one label do not depend on the other
    labels' contents. Raises KeeperError as ``read_label`` does.
    """
    if not case.labels:
        return {}
    tables = LabelTables.from_evidence(evidence, index)
    streams = rng.spawn(len(case.labels))
    return {
        label_id: _read(label_id, label, tables, stream, n_draws, True)
        for (label_id, label), stream in zip(sorted(case.labels.items()), streams, strict=True)
    }


def read_label(
    label_id: str,
    label: Label,
    evidence: Evidence,
    rng: np.random.Generator,
    n_draws: int = N_DRAWS,
    salt_marker: bool = True,
) -> LabelReading:
    """Invert one label: the band and ``n_draws`` draws of every nutrient, per kg dry matter when fed.

    ``salt_marker`` False drops the practice that salt, and so everything after it, is rarely above 1 %.
    Where the ingredients are not known, typical feeds stand in whose kind is named in ``label_id`` or the
    notes. Raises KeeperError for a guarantee that is not known or cannot be true.

    >>> from baskwell.evidence.loader import load_evidence
    >>> label = Label(("timothy hay", "soybean meal", "salt"), {"crude_protein_min_pct": 12.0})
    >>> reading = read_label("hay_pellet", label, load_evidence(), np.random.default_rng(1), 1000)
    >>> protein = reading.nutrient("protein_g")
    >>> bool(120 / 0.9 * 0.85 < protein.got.low < protein.got.median < protein.highest)
    True
    >>> reading.ingredients[0].food_id, reading.conflicts
    ('timothy_hay', ())
    """
    return _read(label_id, label, LabelTables.from_evidence(evidence), rng, n_draws, salt_marker)


def _read(
    label_id: str,
    label: Label,
    tables: LabelTables,
    rng: np.random.Generator,
    n_draws: int,
    salt_marker: bool,
) -> LabelReading:
    guarantees = read_guarantees(label.guaranteed, tables.evidence, label_id)
    ingredients = read_ingredients(label.ingredients or (), tables.names)
    if ingredients:
        found = invert(ingredients, guarantees, tables, rng, n_draws, Manner(salt_marker=salt_marker))
    else:
        found = invert_unknown(f"{label_id} {label.notes}", guarantees, tables, rng, n_draws)
    return _told(label_id, found)


def _told(label_id: str, found: Inversion) -> LabelReading:
    return LabelReading(
        label_id=label_id,
        ingredients=tuple(_share(found, i, item) for i, item in enumerate(found.ingredients)),
        nutrients=tuple(_nutrient(found, name) for name in found.draws),
        conflicts=found.conflicts,
        not_knowable=(*NEVER_KNOWABLE, *found.not_knowable),
        effective_samples=found.effective_samples,
        r_hat=found.r_hat,
        notes=(*found.notes, *(f'"{i.printed}": {i.note}.' for i in found.ingredients if i.doubtful)),
    )


def _share(found: Inversion, i: int, item: Ingredient) -> IngredientShare:
    return IngredientShare(item.printed, item.material_id, summarise(found.shares[:, i]), item.note)


def _nutrient(found: Inversion, name: str) -> NutrientReading:
    draws, band = found.draws[name], found.bands.get(name)
    part = found.assumed.get(name, 0.0)
    note = (
        f"{100 * part:.0f} % of the dry matter is in no table: a wide prior stands in."
        if part >= WORTH_SAYING
        else ""
    )
    return NutrientReading(
        nutrient=name,
        name=nutrient_name(name),
        unit=nutrient_unit(name),
        lowest=band.lowest if band else None,
        highest=band.highest if band else None,
        got=summarise(draws),
        note=note,
        draws=draws,
        lowest_any_batch=band.lowest_any_batch if band else None,
        highest_any_batch=band.highest_any_batch if band else None,
    )
