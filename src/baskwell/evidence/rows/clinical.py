"""Rows of the clinical tables: one frozen class a table, one attribute a column."""

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class Taxon:
    """A species seen in rescue, or a higher name used where no more is known."""

    taxon_id: str
    scientific_name: str
    common_names: tuple[str, ...]
    rank: Literal["higher", "species"]
    clade: Literal["chelonian", "lizard", "snake", ""]
    family: str
    genus: str
    tags: tuple[str, ...]
    adult_mass_g_low: float | None
    adult_mass_g_high: float | None
    adult_length_mm_low: float | None
    adult_length_mm_high: float | None
    length_kind: Literal["SCL", "SVL", "TL", ""]
    years_to_adult_length_low: float | None
    years_to_adult_length_high: float | None
    profile: bool
    grade: str
    source: str


@dataclass(frozen=True, slots=True)
class TaxonName:
    """Under which name a table speaks of a taxon, or of the one it borrows from.

    ``rank`` 1 is the nearest. ``relation``: own, named (the row names a group that holds it), same_genus,
    same_family, same_habit (borrowed), group (trophic group), analogue. ``topics``: what may be borrowed.
    """

    taxon_id: str
    table: Literal["diet_mix", "nutrient_targets", "species_environment"]
    name: str
    rank: int
    relation: Literal["own", "named", "same_genus", "same_family", "same_habit", "group", "analogue"]
    life_stage: Literal["adult", "all", "juvenile"]
    topics: tuple[str, ...]
    note: str
    grade: str
    source: str


@dataclass(frozen=True, slots=True)
class TaxonGroup:
    """Which animals a taxon text of another table covers."""

    taxon_string: str
    used_in: tuple[str, ...]
    covers: str
    condition: Literal[
        "age=hatchling",
        "age=juvenile",
        "age=juvenile or grown up so",
        "age=subadult",
        "mass=under 100 g",
        "sex=female",
        "sex=male",
        "stage=carrier",
        "stage=clinical",
        "",
    ]
    use_for_animal: bool
    n_taxa: int
    note: str


@dataclass(frozen=True, slots=True)
class Sign:
    """A clinical sign with its 0-3 keeper scoring and urgency."""

    sign_id: str
    name: str
    lay_name: str
    body_system: str
    score_0: str
    score_1: str
    score_2: str
    score_3: str
    urgency: str
    taxa: str
    note: str
    basis: str


@dataclass(frozen=True, slots=True)
class Condition:
    """A disease or husbandry problem that the ranking knows."""

    condition_id: str
    name: str
    definition: str
    class_: str
    taxa: str
    onset: str
    confirmatory_test: str
    cheap_first_question_or_test: str
    treated_by: Literal[
        "keeper",
        "keeper (vet if signs)",
        "keeper + vet",
        "none/vet",
        "vet",
        "vet (diet by keeper)",
        "vet (keeper collects)",
        "vet + keeper",
        "vet or none",
    ]
    prognosis: str
    contagious: Literal["no", "possible", "unknown", "yes"]
    zoonotic: str
    reportable: str
    source: str


@dataclass(frozen=True, slots=True)
class ExposureEffect:
    """How one husbandry exposure moves the odds of one target."""

    exposure_id: str
    name: str
    how_asked: str
    target_id: str
    target_kind: Literal["condition", "outcome", "sign"]
    direction: Literal["lowers", "raises"]
    strength_type: Literal["LR_judgement", "OR", "RR", "direction", "effect_direction", "ratio"]
    low: float | None
    mode: float
    high: float | None
    published_text: str
    taxon: str
    grade: str
    source: str


@dataclass(frozen=True, slots=True)
class Link:
    """P(sign | condition): prior and published counts; use p_recommended."""

    condition_id: str
    sign_id: str
    taxon_group: str
    k: int
    n: int
    k_weighted: float
    n_weighted: float
    n_counted: int
    n_reports: int
    links_mean: float | None
    prior_kind: str
    prior_mean: float
    prior_ess: float
    post_a: float
    post_b: float
    post_mean: float
    p05: float
    p95: float
    move: float
    presence_only: bool
    p_recommended: float
    prior_source_held_out: bool
    sources: str
    bias_note: str


@dataclass(frozen=True, slots=True)
class PriorLink:
    """P(sign | condition) by frequency word: the prior under ``Link``."""

    condition_id: str
    sign_id: str
    taxon: str
    p_low: float
    p_mode: float
    p_high: float
    basis: str
    n_or_counts: str
    source: str


@dataclass(frozen=True, slots=True)
class Prevalence:
    """A published or judged frequency."""

    prevalence_id: str
    kind: Literal[
        "background_p_sign",
        "necropsy_contributor",
        "p_condition_given_no_sign",
        "p_condition_given_sign",
        "p_sign_given_condition",
        "p_sign_given_no_condition",
        "prevalence_presented",
        "prior_rescue",
        "shedding",
    ]
    target: str
    taxon: str
    population: str
    x: int | None
    n: int | None
    p: float | None
    p_low: float | None
    p_high: float | None
    source: str
    note: str


@dataclass(frozen=True, slots=True)
class FrequencyWord:
    """The stated range behind a frequency word."""

    word: str
    p_low: float
    p_mode: float
    p_high: float
    note: str
