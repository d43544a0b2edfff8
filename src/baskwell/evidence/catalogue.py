"""The evidence as one frozen value that every calculation takes as an argument."""

from collections.abc import Mapping
from dataclasses import dataclass

from baskwell.evidence.rows.causes import CauseTables
from baskwell.evidence.rows.clinical import (
    Condition,
    ExposureEffect,
    Link,
    Prevalence,
    Sign,
    Taxon,
    TaxonGroup,
    TaxonName,
)
from baskwell.evidence.rows.diet import DietTables
from baskwell.evidence.rows.environment import (
    EnvironmentParameter,
    Lamp,
    LightFact,
    LightPrior,
    SpeciesEnvironment,
    TankSize,
)
from baskwell.evidence.rows.exposures import ExposureJudgement, ExposurePrior, HistoryWord
from baskwell.evidence.rows.foods import CompositionPrior, Food, LabelArchetype, Measure, Variability
from baskwell.evidence.rows.history import AmountWord
from baskwell.evidence.rows.labels import FeedLabelTables
from baskwell.evidence.rows.nutrition import (
    Agent,
    DietShare,
    EnergyRelation,
    Nutrient,
    NutrientTarget,
    TrophicGroup,
)
from baskwell.evidence.rows.safety import Limit
from baskwell.evidence.rows.surroundings import SurroundingsTables


@dataclass(frozen=True)
class Source:
    """Who says so, and how much of it was read."""

    source_id: str
    areas: tuple[str, ...]
    citation: str
    year: str
    url: str
    how_read: str
    kind: str
    quality: str
    licence: str
    note: str


@dataclass(frozen=True)
class Evidence:
    """All tables, loaded once. ``version`` names the data: a package version and a digest."""

    version: str
    taxa: Mapping[str, Taxon]
    taxon_groups: Mapping[str, TaxonGroup]
    taxon_names: tuple[TaxonName, ...]
    signs: Mapping[str, Sign]
    conditions: Mapping[str, Condition]
    exposure_effects: tuple[ExposureEffect, ...]
    exposure_priors: Mapping[str, ExposurePrior]
    exposure_judgements: Mapping[str, ExposureJudgement]
    history_words: tuple[HistoryWord, ...]
    links: tuple[Link, ...]
    prevalence: tuple[Prevalence, ...]
    lamps: Mapping[str, Lamp]
    light_facts: tuple[LightFact, ...]
    light_priors: tuple[LightPrior, ...]
    species_environment: tuple[SpeciesEnvironment, ...]
    parameters: Mapping[str, EnvironmentParameter]
    tank_sizes: tuple[TankSize, ...]
    foods: Mapping[str, Food]
    variability: tuple[Variability, ...]
    composition_priors: tuple[CompositionPrior, ...]
    measures: tuple[Measure, ...]
    labels: Mapping[str, LabelArchetype]
    feed_labels: FeedLabelTables
    diet_tables: DietTables
    energy: Mapping[str, EnergyRelation]
    nutrient_targets: tuple[NutrientTarget, ...]
    nutrients: Mapping[str, Nutrient]
    diet_mix: tuple[DietShare, ...]
    trophic_groups: tuple[TrophicGroup, ...]
    agents: Mapping[str, Agent]
    amount_words: Mapping[str, AmountWord]
    limits: Mapping[str, Limit]
    sources: Mapping[str, Source]
    causes: CauseTables
    surroundings: SurroundingsTables
