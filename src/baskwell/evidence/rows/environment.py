"""Rows of the environment tables: one frozen class a table, one attribute a column."""

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class Lamp:
    """A generic lamp or heat source with its UV index prior."""

    lamp_id: str
    name: str
    class_: Literal[
        "compact", "heat", "led", "light", "mercury_vapour", "metal_halide", "none", "sun", "tube", "unknown"
    ]
    gives_uvb: bool
    gives_heat: bool
    uvi_low: float
    uvi_mode: float
    uvi_high: float
    reference_distance_cm: float | None
    falloff: Literal["line", "none", "point"]
    lit_length_cm_low: float | None
    lit_length_cm: float | None
    lit_length_cm_high: float | None
    decay_per_1000h_low: float | None
    decay_per_1000h_mode: float | None
    decay_per_1000h_high: float | None
    useful_life_months_low: float | None
    useful_life_months_high: float | None
    evidence_grade: Literal["A", "B", "C", "definition"]
    source_id: str
    note: str


@dataclass(frozen=True, slots=True)
class LightFact:
    """A fact of UV physics, lamps or day length."""

    row_id: str
    topic: str
    item: str
    low: float
    high: float | None
    unit: str
    condition: str
    evidence_grade: Literal["A", "B", "C"]
    source_id: str
    note: str


@dataclass(frozen=True, slots=True)
class LightPrior:
    """What is assumed of a light where nobody said, or how far a statement about it is trusted.

    ``applies_to`` holds lamp ids, lamp classes, words of the case file, taxon tags or ``all``, with
    semicolons between; ``low == mode == high`` is a single value.
    """

    prior_id: str
    quantity: str
    applies_to: str
    low: float
    mode: float
    high: float
    unit: str
    evidence_grade: Literal["A", "B", "C"]
    source_id: str
    note: str


@dataclass(frozen=True, slots=True)
class SpeciesEnvironment:
    """One published requirement of one taxon.

    ``prefer`` ranks the rows that the tool uses (1 = the default), None for rows kept to show a conflict
    (``use`` = display) or never to be used (never); ``why`` says what decided it.
    """

    row_id: str
    taxon_id: str
    taxon_scientific: str
    taxon_common: str
    parameter: str
    low: float | None
    high: float | None
    value_text: str
    unit: str
    evidence_grade: Literal["A", "B", "C", "own"]
    source_id: str
    locator: str
    note: str
    bound: Literal["ceiling", "maximum", "minimum", "range", "text"]
    prefer: int | None
    use: Literal["alternative", "default", "display", "never"]
    prior: Literal["class", "measured", "practice", "published", "wide"]
    why: str

    @property
    def source_ids(self) -> tuple[str, ...]:
        """The sources named in ``source_id``."""
        return tuple(self.source_id.split(";"))


@dataclass(frozen=True, slots=True)
class EnvironmentParameter:
    """A parameter of ``species_environment.csv``: its unit, physical range and the limits it falls under."""

    parameter: str
    topic: Literal[
        "brumation",
        "group",
        "humidity",
        "photoperiod",
        "size",
        "space",
        "substrate",
        "temperature",
        "uv",
        "water",
    ]
    unit: str
    physical_low: float | None
    physical_high: float | None
    limit_topic: str
    limit_basis: str
    meaning: str


@dataclass(frozen=True, slots=True)
class TankSize:
    """Outside dimensions of a nominal tank."""

    nominal_us_gallons: str
    length_in: float
    width_in: float
    height_in: float
    length_cm: float
    width_cm: float
    height_cm: float
    floor_area_m2: float
    gross_us_gal: float
    gross_l: float
    evidence_grade: Literal["C"]
    source_id: str
    note: str


@dataclass(frozen=True, slots=True)
class Damage:
    """An exposure and its published outcome."""

    row_id: str
    exposure: str
    outcome: str
    taxon: str
    effect: str
    effect_size: str
    n: int | None
    n_text: str
    evidence_grade: Literal["A", "B", "C"]
    source_id: str
    note: str
