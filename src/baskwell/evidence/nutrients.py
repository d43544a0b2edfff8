"""The nutrient level a taxon needs, and how far it was fallen back for it."""

from collections.abc import Iterator
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Literal

from baskwell.evidence.catalogue import Evidence
from baskwell.evidence.covers import species_beneath
from baskwell.evidence.errors import UnknownKey
from baskwell.evidence.rows.clinical import TaxonName
from baskwell.evidence.rows.nutrition import NutrientTarget
from baskwell.evidence.wanted import Relation, names_of

Level = Literal["species_measured", "species", "borrowed", "group", "analogue"]
LEVELS: tuple[Level, ...] = ("species_measured", "species", "borrowed", "group", "analogue")

_STAGES = {
    "young": {"hatchling", "juvenile", "subadult", "juvenile/growing", "growing", "yearling"},
    "grown": {"adult", "old", "adult female", "female", "reproductive female", "over 6 months"},
}


@dataclass(frozen=True, slots=True)
class WantedNutrient:
    """A nutrient row, the fallback level it was found at, and how its taxon stands to the one asked."""

    row: NutrientTarget
    level: Level
    relation: Relation


def wanted_nutrient(
    evidence: Evidence, taxon_id: str, nutrient: str, life_stage: str = "all"
) -> WantedNutrient | None:
    """The row to use for a nutrient, or None where no number is published.

    The order: species row measured (A), species row (B, P, or a stated working target), row of a
    species of the same genus, row of the trophic group, analogue. Only preferred rows in the unit and
    basis of ``nutrients.csv`` count. ``life_stage``: hatchling, juvenile, subadult, adult, old or all.

    >>> from baskwell.evidence import load_evidence
    >>> found = wanted_nutrient(load_evidence(), "trachemys_scripta", "crude_protein", "juvenile")
    >>> found.level, found.row.minimum, found.row.target_high
    ('species_measured', 25.0, 40.0)

    Raises ``UnknownKey`` for a nutrient that the tables do not know.
    """
    if nutrient not in evidence.nutrients:
        raise UnknownKey(nutrient, get_close_matches(nutrient, evidence.nutrients, n=3))
    candidates = list(nutrient_candidates(evidence, taxon_id, nutrient, life_stage))
    return candidates[0] if candidates else None


def nutrient_candidates(
    evidence: Evidence, taxon_id: str, nutrient: str, life_stage: str = "all"
) -> tuple[WantedNutrient, ...]:
    """All usable rows in the order of fallback, for those who show the alternatives.

    >>> from baskwell.evidence import load_evidence
    >>> rows = nutrient_candidates(load_evidence(), "terrapene_ornata", "vitamin_A")
    >>> [found.level for found in rows][:2]
    ['species', 'group']
    """
    unique = _names(evidence, taxon_id, life_stage)
    rows = [row for row in evidence.nutrient_targets if row.nutrient == nutrient and row.prefer]
    found = [pair for row in rows for pair in _matches(evidence, row, unique.get(row.taxon_or_group))]
    ordered = sorted(found, key=lambda pair: _order(pair[0], pair[1], life_stage))
    return tuple(wanted for wanted, _ in ordered if _stage_fits(wanted.row.life_stage, life_stage))


def _names(evidence: Evidence, taxon_id: str, life_stage: str) -> dict[str, TaxonName]:
    """The names to look under; for a higher name only those that all species beneath it share."""
    tables = [
        {name.name: name for name in reversed(names_of(evidence, taxon.taxon_id, "nutrient_targets"))}
        for taxon in species_beneath(evidence, taxon_id)
    ]
    shared = set.intersection(*(set(table) for table in tables)) if tables else set()
    nearest = {word: name for table in tables[:1] for word, name in table.items() if word in shared}
    return {word: name for word, name in nearest.items() if _stage_fits(name.life_stage, life_stage)}


def _matches(
    evidence: Evidence, row: NutrientTarget, name: TaxonName | None
) -> Iterator[tuple[WantedNutrient, int]]:
    standard = evidence.nutrients[row.nutrient]
    if name is not None and (row.unit, row.basis) == (standard.unit, standard.basis):
        yield WantedNutrient(row, _level(row, name.relation), name.relation), name.rank


def _level(row: NutrientTarget, relation: Relation) -> Level:
    if relation == "analogue":
        return "analogue"
    if row.copied_from_group or relation == "group":
        return "group"
    if relation not in ("own", "named"):
        return "borrowed"
    return "species_measured" if row.evidence_grade == "A" else "species"


def _order(wanted: WantedNutrient, rank: int, life_stage: str) -> tuple[int, int, int]:
    exact = _stage_group(wanted.row.life_stage) == _stage_group(life_stage)
    return LEVELS.index(wanted.level), 0 if exact else 1, rank


def _stage_group(stage: str) -> str:
    return next((group for group, words in _STAGES.items() if stage in words), stage)


def _stage_fits(row_stage: str, asked: str) -> bool:
    return row_stage == "all" or asked == "all" or _stage_group(row_stage) == _stage_group(asked)
