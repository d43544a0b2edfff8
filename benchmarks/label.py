"""How long a label takes: 12 ingredients inverted, and a feed of which only the kind is known."""

from collections.abc import Iterator
from dataclasses import fields
from functools import partial

import numpy as np

from baskwell.evidence import Evidence, load_evidence
from baskwell.science.case.model import Label
from baskwell.science.history.label import LabelTables
from baskwell.science.history.label.read import _read
from benchmarks.figure import Figure, seconds

N_DRAWS = 4000
ENOUGH = 1000
TARGETS = {
    "label: 12 ingredients, 4,000 draws, bands and all": 0.4,
    "label: turtle pellet, nothing known": 0.6,
}


def measure() -> Iterator[Figure]:
    """Wall time after import with the indexes built, and the effective sample that it buys."""
    evidence = load_evidence()
    tables = LabelTables.from_evidence(evidence)
    labels = (archetype(evidence, "L08"), Label(None, {"crude_protein_min_pct": 30.0}))
    for (name, target), label in zip(TARGETS.items(), labels, strict=True):
        yield Figure(name, seconds(partial(read, label, tables)), target)
    for label_id in ("L08", "L09"):
        worth = read(archetype(evidence, label_id), tables)
        yield Figure(
            f"label: effective draws, 12 ingredients ({label_id})", worth, ENOUGH, "draws", at_least=True
        )


def archetype(evidence: Evidence, label_id: str) -> Label:
    """An archetype of ``foods/labels.csv`` as a label."""
    row = evidence.labels[label_id]
    names = [item.name for item in fields(row) if item.name.endswith(("_pct", "_per_kg"))]
    printed = {name: getattr(row, name) for name in names if getattr(row, name) is not None}
    return Label(row.ingredients, printed)


def read(label: Label, tables: LabelTables) -> float:
    """Read a label and give back its effective draws."""
    return _read("turtle_pellet", label, tables, np.random.default_rng(1), N_DRAWS, True).effective_samples
