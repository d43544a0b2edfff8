"""Body condition by published relations where the kind has one, and the reason for silence where not."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from baskwell.evidence import Evidence
from baskwell.evidence.covers import cover_reaches
from baskwell.evidence.rows.clinical_records import BodyConditionRelation
from baskwell.science.case.model import Animal
from baskwell.science.case.span import Span
from baskwell.science.draws import Summary
from baskwell.science.weight.relations import (
    LOG,
    expected_mass_g,
    index_exponent,
    index_value,
    stated_length_range_mm,
)
from baskwell.science.weight.weighings import Z90, is_mass

Standing = Literal["below", "may be below", "inside", "may be above", "above"]
CAUTIONS = ("warning", "body condition score")
SEX = {"female": "F", "male": "M", None: "F"}  # not known: the female line (hailey_ci)


@dataclass(frozen=True)
class ConditionIndex:
    """One published index. ``value`` with the 90 % interval that the errors of mass and length give.

    ``expected_g``: the mass expected at this length, with the interval of the animals it was fitted on
    where the row states their spread; None for an index without a line.
    """

    evidence_id: str
    name: str
    value: Summary
    low_limit: float | None
    target: float | None
    high_limit: float | None
    standing: Standing
    expected_g: Summary | None
    sentence: str
    said_by: str


@dataclass(frozen=True)
class BodyCondition:
    """What published relations say, why others say nothing, and how far to trust any."""

    indices: tuple[ConditionIndex, ...]
    silences: tuple[str, ...]
    cautions: tuple[str, ...]


def body_condition(
    animal: Animal, evidence: Evidence, mass_g: Summary | None, length_error: float
) -> BodyCondition:
    """The condition of an animal of a mass (median with 90 % interval), by its kind and length.

    ``length_error`` is one standard deviation of a length as a share of it.

    >>> from baskwell.evidence import load_evidence
    >>> told = body_condition(Animal("python_regius"), load_evidence(), Summary(1200, 1150, 1250), 0.01)
    >>> told.indices, "no published relation" in told.silences[0]
    ((), True)
    """
    rows = tuple(_rows_for(animal, evidence))
    lines = tuple(row for row in rows if row.formula and row.low_limit is not None and _is_index(row))
    length = animal.straight_carapace_length_mm
    if not lines:
        return BodyCondition(
            (), (_no_relation(animal, evidence), *_notes(rows, "scope note")), _cautions(rows)
        )
    if mass_g is None or length is None or not is_mass(length):
        missing = "mass" if mass_g is None else "straight length of the shell"
        silence = f"Body condition is not told: the {missing} is not known. Measure it."
        return BodyCondition((), (silence,), _cautions(rows))
    indices = tuple(_index(row, mass_g, length, length_error) for row in lines)
    return BodyCondition(indices, _notes(rows, "scope note"), _cautions(rows, animal.sex is None))


def _rows_for(animal: Animal, evidence: Evidence) -> Iterator[BodyConditionRelation]:
    for row in evidence.body_condition.values():
        group = evidence.taxon_groups[row.taxon]
        fits_sex = row.sex in ("any", "F,M", SEX[animal.sex])
        if group.use_for_animal and fits_sex and cover_reaches(evidence, group.covers, animal.taxon):
            yield row


def _is_index(row: BodyConditionRelation) -> bool:
    return "=" in row.formula and index_value(row, 1.0, 1.0) is not None


def _no_relation(animal: Animal, evidence: Evidence) -> str:
    name = evidence.taxa[animal.taxon].scientific_name
    return (
        f"For {name} no published relation of mass to length is fit to judge condition; general lines for "
        "turtles, lizards or snakes are too crude. Score it by hand and watch the trend."
    )


def _notes(rows: tuple[BodyConditionRelation, ...], metric: str) -> tuple[str, ...]:
    return tuple(f"{row.meaning} ({row.source})." for row in rows if row.metric == metric)


def _cautions(rows: tuple[BodyConditionRelation, ...], sex_unknown: bool = False) -> tuple[str, ...]:
    told = [f"{row.meaning} ({row.source})." for row in rows if row.metric in CAUTIONS]
    if sex_unknown and any(row.sex in ("F", "M") for row in rows):
        told.append("The sex is not known: the female line is used, which males lie a little under.")
    return tuple(told)


def _index(row: BodyConditionRelation, mass_g: Summary, length: Span, length_error: float) -> ConditionIndex:
    value = _with_interval(row, mass_g, length, length_error)
    standing = _standing(value, row)
    return ConditionIndex(
        evidence_id=row.item_id,
        name=row.metric,
        value=value,
        low_limit=row.low_limit,
        target=row.target,
        high_limit=row.high_limit,
        standing=standing,
        expected_g=_expected(row, length),
        sentence=_sentence(row, value, standing, length),
        said_by=row.source,
    )


def _with_interval(row: BodyConditionRelation, mass_g: Summary, length: Span, length_error: float) -> Summary:
    """Mass interval and length error together; both act on the logarithm of the index."""
    mass_sd = math.log(mass_g.high / mass_g.low) / (2 * Z90)
    range_sd = math.log((length.high or 1.0) / (length.low or 1.0)) / (2 * Z90)
    spread = Z90 * math.hypot(mass_sd, index_exponent(row) * math.hypot(length_error, range_sd))
    middle = index_value(row, mass_g.median, length.middle) or 0.0
    if row.formula in LOG:
        return Summary(middle, middle - spread / math.log(10), middle + spread / math.log(10))
    return Summary(middle, middle * math.exp(-spread), middle * math.exp(spread))


def _expected(row: BodyConditionRelation, length: Span) -> Summary | None:
    middle = expected_mass_g(row, length.middle)
    if middle is None:
        return None
    spread = Z90 * (row.residual_sd_log10 or 0.0)
    return Summary(middle, middle * 10**-spread, middle * 10**spread)


def _standing(value: Summary, row: BodyConditionRelation) -> Standing:
    low = -math.inf if row.low_limit is None else row.low_limit
    high = math.inf if row.high_limit is None else row.high_limit
    if value.median < low:
        return "below" if value.high < low else "may be below"
    if value.median > high:
        return "above" if value.low > high else "may be above"
    return "may be below" if value.low < low else "may be above" if value.high > high else "inside"


def _sentence(row: BodyConditionRelation, value: Summary, standing: Standing, length: Span) -> str:
    limits = " to ".join(f"{x:g}" for x in (row.low_limit, row.high_limit) if x is not None)
    fitted = stated_length_range_mm(row)
    outside = fitted is not None and not fitted[0] <= length.middle <= fitted[1]
    beyond = (
        f" Fitted on {fitted[0]:g} to {fitted[1]:g} mm: beyond, it is a guess." if outside and fitted else ""
    )
    return (
        f"{row.metric} {value.median:.3g} ({value.low:.3g} to {value.high:.3g}), "
        f"{standing} the range {limits}: {row.meaning}.{beyond}"
    )
