"""Rows of the clinical records tables: one frozen class a table, one attribute a column."""

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class CaseSeries:
    """A published series or report behind the link counts."""

    series_id: str
    condition_id: str
    taxon: str
    taxon_group: str
    n_animals: int
    source_id: str
    how_read: Literal["abstract", "abstract and table", "page opening", "secondary"]
    lists_all_signs: bool
    report_type: Literal[
        "counted_series", "experimental_series", "group_description", "necropsy_series", "single"
    ]
    diagnosis_confirmed: str
    population_note: str


@dataclass(frozen=True, slots=True)
class CaseSign:
    """Sign counts in one series."""

    series_id: str
    sign_id: str
    n_present: int
    n_examined: int
    use: bool
    note: str


@dataclass(frozen=True, slots=True)
class CaseExposure:
    """Husbandry facts in one series."""

    series_id: str
    exposure_id: str
    n_exposed: int
    n_asked: int
    note: str


@dataclass(frozen=True, slots=True)
class CaseBackground:
    """Sign counts in a group picked by complaint."""

    population: str
    taxon_group: str
    sign_id: str
    k: int
    n: int
    source_id: str
    note: str


@dataclass(frozen=True, slots=True)
class CaseLead:
    """A known series that could not be read yet."""

    condition_id: str
    lead: str
    n_animals: int | None
    why_wanted: str
    where: str
    state: str


@dataclass(frozen=True, slots=True)
class Outcome:
    """A published outcome."""

    outcome_id: str
    population: str
    n: int | None
    measure: str
    value: float | None
    value_low: float | None
    value_high: float | None
    value_text: str
    unit: str
    detail: str
    taxon: str
    source: str


@dataclass(frozen=True, slots=True)
class QuarantineFact:
    """Durations, order of work, tests, disinfectants, criteria."""

    item_id: str
    kind: str
    taxon: str
    agent: str
    value: float | None
    value_low: float | None
    value_high: float | None
    value_text: str
    unit: str
    detail: str
    grade: str
    source: str


@dataclass(frozen=True, slots=True)
class TrimFact:
    """Beak and nail work."""

    item_id: str
    topic: str
    taxon: str
    parameter: str
    value: float | None
    value_text: str
    low: float | None
    high: float | None
    unit: str
    detail: str
    grade: str
    source: str


@dataclass(frozen=True, slots=True)
class BodyConditionRelation:
    """A length-mass relation, index or alarm."""

    item_id: str
    metric: str
    taxon: str
    sex: Literal["F", "F,M", "M", "any"]
    formula: str
    a: float | None
    b: float | None
    units: str
    low_limit: float | None
    target: float | None
    high_limit: float | None
    meaning: str
    n: int | None
    residual_sd_log10: float | None
    grade: str
    source: str
