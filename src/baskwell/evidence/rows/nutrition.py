"""Rows of the nutrition tables: one frozen class a table, one attribute a column."""

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class NutrientTarget:
    """A nutrient level wanted for a taxon or trophic group.

    ``copied_from_group``: the group row repeated under a species name, no evidence on the species.
    """

    row_id: str
    taxon_or_group: str
    life_stage: str
    nutrient: str
    unit: str
    basis: str
    minimum: float | None
    target_low: float | None
    target_high: float | None
    maximum: float | None
    value_text: str
    upper_is_toxic: bool | None
    evidence_grade: Literal["A", "B", "C", "P", "none"]
    source_id: str
    source_locator: str
    note: str
    provenance: Literal["common practice", "computed", "from memory", "read"]
    prefer: bool
    copied_from_group: bool


@dataclass(frozen=True, slots=True)
class Nutrient:
    """A nutrient: the unit and basis in which its targets can be compared, and the finding it serves."""

    nutrient: str
    unit: str
    basis: Literal[
        "% DM",
        "% metabolizable energy",
        "% of total fatty acids",
        "as fed",
        "note",
        "per kg dry matter",
        "ratio",
    ]
    physical_low: float | None
    physical_high: float | None
    finding_id: str
    meaning: str


@dataclass(frozen=True, slots=True)
class DietShare:
    """The share of a food group in a wild or recommended diet."""

    row_id: str
    taxon: str
    life_stage: str
    food_group: str
    share_low: float | None
    share_high: float | None
    basis: str
    feeding_frequency: str
    evidence_grade: Literal["A", "B", "P"]
    source_id: str
    source_locator: str
    note: str
    provenance: Literal["common practice", "computed", "read"]


@dataclass(frozen=True, slots=True)
class EnergyRelation:
    """A metabolic equation, multiplier or limit."""

    id: str
    kind: Literal[
        "Q10",
        "conversion",
        "diet_energy",
        "digestibility",
        "equation",
        "measurement",
        "multiplier",
        "ratio",
        "rule",
        "volume_limit",
    ]
    taxon_or_group: str
    quantity: str
    equation: str
    coefficient: float | None
    exponent: float | None
    mass_unit: Literal["g", "kg", ""]
    output_unit: str
    temperature_low_c: float | None
    temperature_high_c: float | None
    temperature_text: str
    q10: float | None
    value_low: float | None
    value_high: float | None
    evidence_grade: Literal["A", "B", "C", "P"]
    source_id: str
    source_locator: str
    note: str
    provenance: Literal["common practice", "computed", "from memory", "read"]
    prefer: bool


@dataclass(frozen=True, slots=True)
class Dose:
    """A published dose, limit or guard."""

    row_id: str
    agent: str
    taxon: str
    route: str
    dose_low: float | None
    dose_high: float | None
    unit: str
    interval: str
    max_duration: str
    toxic_threshold: str
    prescription_only: bool
    tool_use: Literal["default_limit", "do_not_use", "guard", "reference_only", "vet_only"]
    caution: str
    evidence_grade: Literal["A", "B", "C", "P"]
    source_id: str
    source_locator: str
    provenance: Literal["common practice", "computed", "from memory", "read"]


@dataclass(frozen=True, slots=True)
class WeaningStep:
    """A feeding step or an escalation threshold."""

    row_id: str
    taxon: str
    kind: str
    step_or_threshold: str
    value_low: float | None
    value_high: float | None
    unit: str
    action: str
    evidence_grade: Literal["A", "B", "P"]
    source_id: str
    source_locator: str
    note: str
    provenance: Literal["common practice", "computed", "read"]


@dataclass(frozen=True, slots=True)
class Agent:
    """What is given as a supplement, dose or treatment.

    ``supplies`` are nutrients; ``food_id`` names its composition where that is known.
    """

    agent_id: str
    name: str
    kind: Literal["drug", "fluid", "food_supplement", "mineral", "mixture", "none", "unknown", "vitamin"]
    supplies: tuple[str, ...]
    food_id: str
    prescription_only: bool
    aliases: tuple[str, ...]
    note: str
    grade: str
    source: str


@dataclass(frozen=True, slots=True)
class TrophicGroup:
    """Which nutrient group a taxon borrows from."""

    taxon: str
    scientific_name: str
    life_stage: Literal["adult", "all", "juvenile"]
    trophic_group: Literal["carnivore", "herbivore", "omnivore"]
    evidence_grade: Literal["B", "P"]
    source_id: str
    source_locator: str
    note: str
    provenance: Literal["common practice", "read"]
