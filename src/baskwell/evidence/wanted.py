"""The environment a taxon needs, row by row in order of preference. The choices are data, not code."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from difflib import get_close_matches
from typing import Literal

from baskwell.evidence.catalogue import Evidence
from baskwell.evidence.covers import cover_reaches, species_beneath
from baskwell.evidence.errors import UnknownKey
from baskwell.evidence.rows.clinical import TaxonName
from baskwell.evidence.rows.environment import EnvironmentParameter, SpeciesEnvironment
from baskwell.evidence.rows.safety import Limit

Relation = Literal["own", "named", "same_genus", "same_family", "same_habit", "group", "analogue", "member"]

_CEILINGS = ("default_high", "warn", "alarm", "block")


@dataclass(frozen=True, slots=True)
class WantedRow:
    """One published or judged answer to "what does this animal need".

    ``keys`` are understood by ``show_value``. ``low`` or ``high`` None: that side is not known or not
    limited. ``bound`` says how to read them (range, minimum, maximum, ceiling, text); ``prior`` how wide
    to take them (measured, published, class, practice, wide, judgement). ``relation`` is ``own`` or
    tells how the taxon whose row it is (``taxon_id``) stands to the one asked for.
    """

    keys: tuple[str, ...]
    low: float | None
    high: float | None
    value_text: str
    unit: str
    bound: str
    grade: str
    prior: str
    relation: Relation
    taxon_id: str
    source_ids: tuple[str, ...]
    why: str


def wanted_environment(evidence: Evidence, taxon_id: str, parameter: str) -> tuple[WantedRow, ...]:
    """The rows the tool uses for a taxon and parameter, the default first; empty = not known.

    Own rows come first, then those of the taxon it borrows from (``taxon_names.csv``). Where
    ``safety/limits.csv`` speaks, it replaces the sides it gives and stands first. A higher name gets the
    rows of every species beneath it, marked ``member``. Rows kept for display or never to be used are
    left out.

    >>> from baskwell.evidence import load_evidence
    >>> rows = wanted_environment(load_evidence(), "terrapene_ornata", "basking_surface_C")
    >>> rows[0].low, rows[0].high, rows[0].keys
    (30.0, 32.0, ('hot_terrapene_ornata_low', 'hot_terrapene_ornata_high'))

    Raises ``UnknownKey`` for a taxon or parameter that the tables do not know.
    """
    known = evidence.parameters.get(parameter)
    if known is None:
        raise UnknownKey(parameter, get_close_matches(parameter, evidence.parameters, n=3))
    species = species_beneath(evidence, taxon_id)
    if len(species) == 1:
        return tuple(_rows_of_species(evidence, species[0].taxon_id, known))
    beneath = (row for taxon in species for row in _rows_of_species(evidence, taxon.taxon_id, known))
    return tuple(replace(row, relation="member") for row in beneath if row.relation == "own")


def names_of(evidence: Evidence, taxon_id: str, table: str) -> tuple[TaxonName, ...]:
    """Under which names a table speaks of a taxon, nearest first (``taxon_names.csv``).

    >>> from baskwell.evidence import load_evidence
    >>> [name.name for name in names_of(load_evidence(), "testudo_marginata", "species_environment")]
    ['Testudo hermanni']
    """
    found = (name for name in evidence.taxon_names if name.taxon_id == taxon_id and name.table == table)
    return tuple(sorted(found, key=lambda name: name.rank))


def _rows_of_species(
    evidence: Evidence, taxon_id: str, parameter: EnvironmentParameter
) -> Iterator[WantedRow]:
    for name in names_of(evidence, taxon_id, "species_environment"):
        if name.topics == ("all",) or parameter.topic in name.topics:
            yield from _rows_of_name(evidence, name, parameter)


def _rows_of_name(
    evidence: Evidence, name: TaxonName, parameter: EnvironmentParameter
) -> Iterator[WantedRow]:
    rows = [_wanted(row, name.relation) for row in _used_rows(evidence, name.name, parameter.parameter)]
    first = _limited(evidence, name, parameter, rows)
    if first is not None:
        yield first
        rows = [row for row in rows if row.keys[0] not in first.keys]
    yield from rows


def _used_rows(evidence: Evidence, name: str, parameter: str) -> list[SpeciesEnvironment]:
    rows = (
        row
        for row in evidence.species_environment
        if row.parameter == parameter and row.taxon_scientific == name and row.prefer is not None
    )
    return sorted(rows, key=lambda row: row.prefer or 0)


def _wanted(row: SpeciesEnvironment, relation: Relation) -> WantedRow:
    return WantedRow(
        keys=(row.row_id,),
        low=None if row.bound == "ceiling" else row.low,
        high=row.high,
        value_text=row.value_text,
        unit=row.unit,
        bound=row.bound,
        grade=row.evidence_grade,
        prior=row.prior,
        relation=relation,
        taxon_id=row.taxon_id,
        source_ids=row.source_ids,
        why=row.why,
    )


def _limited(
    evidence: Evidence, name: TaxonName, parameter: EnvironmentParameter, rows: list[WantedRow]
) -> WantedRow | None:
    """The first row with the sides that the limits give put in their place."""
    if not parameter.limit_topic:
        return None
    taxon_id = _taxon_of_name(evidence, name.name)
    limits = [limit for limit in _topic_limits(evidence, taxon_id, parameter) if limit.value is not None]
    low = max((limit for limit in limits if limit.kind == "default_low"), key=_value, default=None)
    high = _ceiling(limits, rows)
    if low is None and high is None:
        return None
    return _joined(low, high, rows, name.relation, taxon_id)


def _taxon_of_name(evidence: Evidence, scientific_name: str) -> str:
    return next(t.taxon_id for t in evidence.taxa.values() if t.scientific_name == scientific_name)


def _topic_limits(evidence: Evidence, taxon_id: str, parameter: EnvironmentParameter) -> Iterator[Limit]:
    for limit in limits_for(evidence, taxon_id, parameter.limit_topic):
        if parameter.limit_basis in ("", limit.basis):
            yield limit


def _ceiling(limits: list[Limit], rows: list[WantedRow]) -> Limit | None:
    """A stated default wins; a warning, alarm or block counts where it lies below the row."""
    ceilings = [limit for limit in limits if limit.kind in _CEILINGS]
    stated = [limit for limit in ceilings if limit.kind == "default_high"] or ceilings
    lowest = min(stated, key=_value, default=None)
    highest_row = rows[0].high if rows else None
    if lowest is None or lowest.kind == "default_high" or highest_row is None:
        return lowest
    return lowest if _value(lowest) <= highest_row else None


def _value(limit: Limit) -> float:
    return float("nan") if limit.value is None else limit.value


def _joined(
    low: Limit | None, high: Limit | None, rows: list[WantedRow], relation: Relation, taxon_id: str
) -> WantedRow:
    row = rows[0] if rows else None
    keys = tuple(limit.limit_id for limit in (low, high) if limit)
    needs_row = row is not None and ((low is None and row.low is not None) or high is None)
    some = low or high
    return WantedRow(
        keys=(*keys, *row.keys) if row and needs_row else keys,
        low=low.value if low else (row.low if row else None),
        high=high.value if high else (row.high if row else None),
        value_text="",
        unit=row.unit if row else (some.unit if some else ""),
        bound=row.bound if row else "range",
        grade="judgement",
        prior="judgement",
        relation=relation,
        taxon_id=taxon_id,
        source_ids=tuple(dict.fromkeys(s for limit in (low, high) if limit for s in limit.source_ids)),
        why="safety/limits.csv stands above every other table",
    )


def uv_zone(evidence: Evidence, taxon_id: str) -> int | None:
    """The Ferguson zone used for a taxon (1 to 4), the lower one of a span; None = not known.

    >>> from baskwell.evidence import load_evidence
    >>> uv_zone(load_evidence(), "terrapene_ornata"), uv_zone(load_evidence(), "pogona_vitticeps")
    (2, 3)
    """
    rows = wanted_environment(evidence, taxon_id, "uv_index_zone")
    first = [row for row in rows if row.relation == "member"] or list(rows[:1])
    return min((int(row.low) for row in first if row.low is not None), default=None)


def limits_for(evidence: Evidence, taxon_id: str, topic: str, kind: str | None = None) -> tuple[Limit, ...]:
    """The limits of a topic that hold for a taxon, the strictest first.

    ``topic`` and ``kind`` are words of ``limits.csv``; without ``kind`` all kinds. A higher name gets
    every limit that could hold for a species beneath it. Limits for a UV zone hold for the zone of
    ``uv_zone``; where that is not known only those without a zone hold.

    >>> from baskwell.evidence import load_evidence
    >>> [limit.limit_id for limit in limits_for(load_evidence(), "testudo_hermanni", "vitamin_a", "warn")]
    ['va_daily_warn', 'va_diet_herb_warn']
    """
    zone = uv_zone(evidence, taxon_id) if topic == "uv_index" else None
    found = [
        limit
        for limit in evidence.limits.values()
        if limit.topic == topic
        and kind in (None, limit.kind)
        and limit.uv_zone in (None, zone)
        and cover_reaches(evidence, limit.covers, taxon_id)
    ]
    return tuple(sorted(found, key=_strictness))


def _strictness(limit: Limit) -> float:
    if limit.value is None:
        return float("inf")
    return -limit.value if limit.kind == "default_low" else limit.value
