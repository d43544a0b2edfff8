"""The evidence as one frozen value that every calculation takes as an argument."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Protocol, TypeVar

from baskwell.evidence.rows.causes import CauseTables
from baskwell.evidence.rows.clinical import (
    Condition,
    ExposureEffect,
    FrequencyWord,
    Link,
    Prevalence,
    PriorLink,
    Sign,
    Taxon,
    TaxonGroup,
    TaxonName,
)
from baskwell.evidence.rows.clinical_records import (
    BodyConditionRelation,
    CaseBackground,
    CaseExposure,
    CaseLead,
    CaseSeries,
    CaseSign,
    Outcome,
    QuarantineFact,
    TrimFact,
)
from baskwell.evidence.rows.diet import DietTables
from baskwell.evidence.rows.dosing import DosingTables
from baskwell.evidence.rows.environment import (
    Damage,
    EnvironmentParameter,
    Lamp,
    LightFact,
    LightPrior,
    SpeciesEnvironment,
    TankSize,
)
from baskwell.evidence.rows.exposures import ExposureJudgement, ExposurePrior, HistoryWord
from baskwell.evidence.rows.feeding import FeedingTables
from baskwell.evidence.rows.foods import (
    CompositionPrior,
    Food,
    FoodOrigin,
    LabelArchetype,
    Measure,
    Variability,
)
from baskwell.evidence.rows.history import AmountWord
from baskwell.evidence.rows.keratin import KeratinTables
from baskwell.evidence.rows.labels import FeedLabelTables
from baskwell.evidence.rows.nutrition import (
    Agent,
    DietShare,
    Dose,
    EnergyRelation,
    Nutrient,
    NutrientTarget,
    TrophicGroup,
    WeaningStep,
)
from baskwell.evidence.rows.package_rows import Grade, KnownException, Preference, Unit
from baskwell.evidence.rows.quarantine import QuarantineTables
from baskwell.evidence.rows.safety import Correction, Limit
from baskwell.evidence.rows.surroundings import SurroundingsTables
from baskwell.evidence.rows.weight import WeightTables
from baskwell.evidence.rows.welfare import WelfareTables

Row = TypeVar("Row")
Group = TypeVar("Group")


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


class Tables(Protocol):
    """Where typed rows come from: the reader of the package."""

    def rows(self, path: str, kind: type[Row]) -> tuple[Row, ...]:
        """The rows of the table at a path."""

    def keyed(self, path: str, kind: type[Row], key: str) -> Mapping[str, Row]:
        """The rows by the attribute that names them."""

    def group(self, area: str, kind: type[Group]) -> Group:
        """A class whose fields are tables of one area."""


@dataclass(frozen=True)
class Evidence:
    """All tables. ``version`` names the data: the package version and a digest of every cell.

    What every review needs is read at once; the tables below it are read when they are first asked for.
    """

    version: str
    read: Tables = field(repr=False, compare=False)
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
    diet_tables: DietTables
    nutrient_targets: tuple[NutrientTarget, ...]
    nutrients: Mapping[str, Nutrient]
    diet_mix: tuple[DietShare, ...]
    trophic_groups: tuple[TrophicGroup, ...]
    agents: Mapping[str, Agent]
    amount_words: Mapping[str, AmountWord]
    limits: Mapping[str, Limit]
    causes: CauseTables
    surroundings: SurroundingsTables

    @cached_property
    def sources(self) -> Mapping[str, Source]:
        """Every source, the pseudo-sources for judgement and the like among them."""
        return self.read.keyed("sources.csv", Source, "source_id")

    @cached_property
    def measures(self) -> tuple[Measure, ...]:
        """Household measures in grams."""
        return self.read.rows("foods/measures.csv", Measure)

    @cached_property
    def labels(self) -> Mapping[str, LabelArchetype]:
        """Invented labels typical of the trade."""
        return self.read.keyed("foods/labels.csv", LabelArchetype, "label_id")

    @cached_property
    def feed_labels(self) -> FeedLabelTables:
        """The tables of label reading."""
        return self.read.group("foods", FeedLabelTables)

    @cached_property
    def energy(self) -> Mapping[str, EnergyRelation]:
        """Metabolic equations, multipliers and limits."""
        return self.read.keyed("nutrition/energy.csv", EnergyRelation, "id")

    @cached_property
    def prior_links(self) -> tuple[PriorLink, ...]:
        """The priors by frequency word under ``links``."""
        return self.read.rows("clinical/links.csv", PriorLink)

    @cached_property
    def word_map(self) -> Mapping[str, FrequencyWord]:
        """The range behind each frequency word."""
        return self.read.keyed("clinical/word_map.csv", FrequencyWord, "word")

    @cached_property
    def body_condition(self) -> Mapping[str, BodyConditionRelation]:
        """Length-mass relations, indices and alarms."""
        return self.read.keyed("clinical/body_condition.csv", BodyConditionRelation, "item_id")

    @cached_property
    def trims(self) -> Mapping[str, TrimFact]:
        """Beak and nail work."""
        return self.read.keyed("clinical/trims.csv", TrimFact, "item_id")

    @cached_property
    def quarantine(self) -> Mapping[str, QuarantineFact]:
        """Durations, order of work, tests, disinfectants, criteria."""
        return self.read.keyed("clinical/quarantine.csv", QuarantineFact, "item_id")

    @cached_property
    def quarantine_tables(self) -> QuarantineTables:
        """The figures behind the criteria for leaving quarantine, and what tests of each agent are worth."""
        return self.read.group("clinical", QuarantineTables)

    @cached_property
    def keratin(self) -> KeratinTables:
        """What trims of beak and nails are reckoned with."""
        return self.read.group("clinical", KeratinTables)

    @cached_property
    def outcomes(self) -> Mapping[str, Outcome]:
        """Published outcomes."""
        return self.read.keyed("clinical/outcomes.csv", Outcome, "outcome_id")

    @cached_property
    def case_series(self) -> Mapping[str, CaseSeries]:
        """Published series behind the link counts."""
        return self.read.keyed("clinical/case_series.csv", CaseSeries, "series_id")

    @cached_property
    def case_signs(self) -> tuple[CaseSign, ...]:
        """Sign counts in each series."""
        return self.read.rows("clinical/case_signs.csv", CaseSign)

    @cached_property
    def case_exposures(self) -> tuple[CaseExposure, ...]:
        """Husbandry facts in each series."""
        return self.read.rows("clinical/case_exposures.csv", CaseExposure)

    @cached_property
    def case_background(self) -> tuple[CaseBackground, ...]:
        """Sign counts in a group picked by complaint."""
        return self.read.rows("clinical/case_background.csv", CaseBackground)

    @cached_property
    def case_leads(self) -> tuple[CaseLead, ...]:
        """Known series that could not be read yet."""
        return self.read.rows("clinical/case_leads.csv", CaseLead)

    @cached_property
    def damage(self) -> tuple[Damage, ...]:
        """Exposures and their published outcome."""
        return self.read.rows("environment/damage.csv", Damage)

    @cached_property
    def food_map(self) -> Mapping[str, FoodOrigin]:
        """Where each food row comes from."""
        return self.read.keyed("foods/foods_map.csv", FoodOrigin, "food_id")

    @cached_property
    def doses(self) -> tuple[Dose, ...]:
        """Published doses, limits and guards; nothing here is a prescription."""
        return self.read.rows("nutrition/doses.csv", Dose)

    @cached_property
    def dosing(self) -> DosingTables:
        """How limits and doses are reckoned with, and what a person can measure."""
        return self.read.group("nutrition", DosingTables)

    @cached_property
    def weaning(self) -> tuple[WeaningStep, ...]:
        """Feeding steps and escalation thresholds."""
        return self.read.rows("nutrition/weaning.csv", WeaningStep)

    @cached_property
    def feeding(self) -> FeedingTables:
        """How feeding steps are reckoned with, and what is known of appetite before an animal is tried."""
        return self.read.group("nutrition", FeedingTables)

    @cached_property
    def weight(self) -> WeightTables:
        """What the weight trend assumes of scales, guts and growth."""
        return self.read.group("clinical", WeightTables)

    @cached_property
    def welfare(self) -> WelfareTables:
        """What is scored for quality of life, and what calls for a talk with the veterinarian."""
        return self.read.group("clinical", WelfareTables)

    @cached_property
    def corrections(self) -> tuple[Correction, ...]:
        """Cells corrected after an independent re-reading."""
        return self.read.rows("safety/corrections.csv", Correction)

    @cached_property
    def grades(self) -> tuple[Grade, ...]:
        """What each grade word means."""
        return self.read.rows("grades.csv", Grade)

    @cached_property
    def units(self) -> Mapping[str, Unit]:
        """Known units and the range that can be meant."""
        return self.read.keyed("units.csv", Unit, "unit")

    @cached_property
    def preferences(self) -> tuple[Preference, ...]:
        """Which row is used where sources disagree."""
        return self.read.rows("preferences.csv", Preference)

    @cached_property
    def known_exceptions(self) -> tuple[KnownException, ...]:
        """Findings of the checks that are known and accepted."""
        return self.read.rows("exceptions.csv", KnownException)
