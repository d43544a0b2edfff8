"""Published mass-length relations: the mass expected at a length, and indices of condition."""

import math
import re

from baskwell.evidence.rows.clinical_records import BodyConditionRelation

MM_PER = {"mm": 1.0, "cm": 10.0, "m": 1000.0}
G_PER = {"g": 1.0, "kg": 1000.0}
POWER = ("M' = a * L^b", "M = a * L^b", "M = a * SVL^b")
LOG = ("log10 M = a + b log10 L", "log10 M = a + b log10 SVL")
CUBE = {"R = M / L^3": 1.0, "BCI = 10000 * M / SCL^3": 10_000.0}
PER_LENGTH = "BCI = M / L"
_UNITS = re.compile(r"(?:M )?(k?g)[;,/].*?\b(mm|cm|m)\b")


def units_of(row: BodyConditionRelation) -> tuple[float, float]:
    """Grams in the row's unit of mass and millimetres in its unit of length.

    Raises ValueError where the row does not say.

    >>> from baskwell.evidence import load_evidence
    >>> units_of(load_evidence().body_condition["fulton_sea"])
    (1000.0, 10.0)
    """
    found = _UNITS.search(row.units)
    if found is None:
        raise ValueError(f"Row {row.item_id} does not state units of mass and length: '{row.units}'.")
    return G_PER[found.group(1)], MM_PER[found.group(2)]


def expected_mass_g(row: BodyConditionRelation, length_mm: float) -> float | None:
    """Mass in g at a length above zero by the row's line; None where the row is no line.

    >>> from baskwell.evidence import load_evidence
    >>> round(expected_mass_g(load_evidence().body_condition["gg_f"], 190.0), 1)
    1467.1
    """
    if row.a is None or row.b is None or row.formula not in (*POWER, *LOG):
        return None
    grams, millimetres = units_of(row)
    length = length_mm / millimetres
    mass = row.a * length**row.b if row.formula in POWER else 10 ** (row.a + row.b * math.log10(length))
    return mass * grams


def index_value(row: BodyConditionRelation, mass_g: float, length_mm: float) -> float | None:
    """The row's index for a mass and length above zero; None where the row is no index.

    A power line gives mass over expected mass, a logarithmic line its log10.

    >>> from baskwell.evidence import load_evidence
    >>> round(index_value(load_evidence().body_condition["jackson"], 650.0, 150.0), 4)
    0.1926
    """
    expected = expected_mass_g(row, length_mm)
    if expected is not None:
        ratio = mass_g / expected
        return math.log10(ratio) if row.formula in LOG else ratio
    if row.formula not in (*CUBE, PER_LENGTH):
        return None
    grams, millimetres = units_of(row)
    mass, length = mass_g / grams, length_mm / millimetres
    return mass / length if row.formula == PER_LENGTH else CUBE[row.formula] * mass / length**3


def index_exponent(row: BodyConditionRelation) -> float:
    """The power of length that the index divides by: how much more an error of length counts."""
    return row.b if row.b is not None else 1.0 if row.formula == PER_LENGTH else 3.0


def stated_length_range_mm(row: BodyConditionRelation) -> tuple[float, float] | None:
    """The lengths for which the row was fitted, where it says so.

    >>> from baskwell.evidence import load_evidence
    >>> stated_length_range_mm(load_evidence().body_condition["gg_m"])
    (150.0, 214.0)
    """
    found = re.search(r"L mm (\d+)-(\d+)", row.units)
    return (float(found.group(1)), float(found.group(2))) if found else None
