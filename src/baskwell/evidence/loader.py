"""Read the evidence tables into typed rows, each column by its schema."""

import gc
from functools import cache
from pathlib import Path

from baskwell.evidence.catalogue import Evidence
from baskwell.evidence.reader import Reader
from baskwell.evidence.rows import (
    causes,
    clinical,
    diet,
    environment,
    exposures,
    foods,
    history,
    nutrition,
    safety,
    surroundings,
)


def load_evidence(user_folder: str | Path | None = None) -> Evidence:
    """Load the shipped tables, and beside them those of a user folder.

    Without a folder the tables are read once and kept. A user folder may hold ``taxa.csv``,
    ``foods.csv``, ``labels.csv``, ``species_environment.csv`` and ``sources.csv`` of the same form; their
    rows never touch the safety limits.

    >>> load_evidence().foods["collard_greens"].calcium_mg
    232.0

    Raises ``EvidenceError`` where a cell is not of the type its schema states, and ``OwnTablesError``
    with all findings where the user folder does not pass the checks.
    """
    if user_folder is None:
        return _shipped()
    return _read(Path(user_folder))


@cache
def _shipped() -> Evidence:
    return _read(None)


def _read(user_folder: Path | None) -> Evidence:
    """Read without the collector: all that is made here stays, and looking it through doubles the time."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        return _assemble(Reader(user_folder=user_folder))
    finally:
        if was_on:
            gc.enable()


def _assemble(read: Reader) -> Evidence:
    return Evidence(
        version=read.version,
        read=read,
        taxa=read.keyed("clinical/taxa.csv", clinical.Taxon, "taxon_id"),
        taxon_groups=read.keyed("clinical/taxon_groups.csv", clinical.TaxonGroup, "taxon_string"),
        taxon_names=read.rows("clinical/taxon_names.csv", clinical.TaxonName),
        signs=read.keyed("clinical/signs.csv", clinical.Sign, "sign_id"),
        conditions=read.keyed("clinical/conditions.csv", clinical.Condition, "condition_id"),
        exposure_effects=read.rows("clinical/exposures.csv", clinical.ExposureEffect),
        exposure_priors=read.keyed("clinical/exposure_priors.csv", exposures.ExposurePrior, "exposure_id"),
        exposure_judgements=read.keyed(
            "clinical/exposure_judgements.csv", exposures.ExposureJudgement, "judgement_id"
        ),
        history_words=read.rows("clinical/history_words.csv", exposures.HistoryWord),
        links=read.rows("clinical/links_empirical.csv", clinical.Link),
        prevalence=read.rows("clinical/prevalence.csv", clinical.Prevalence),
        lamps=read.keyed("environment/lamps.csv", environment.Lamp, "lamp_id"),
        light_facts=read.rows("environment/light.csv", environment.LightFact),
        light_priors=read.rows("environment/light_priors.csv", environment.LightPrior),
        species_environment=read.rows("environment/species_environment.csv", environment.SpeciesEnvironment),
        parameters=read.keyed("environment/parameters.csv", environment.EnvironmentParameter, "parameter"),
        tank_sizes=read.rows("environment/tank_sizes.csv", environment.TankSize),
        foods=read.keyed("foods/foods.csv", foods.Food, "food_id"),
        variability=read.rows("foods/variability.csv", foods.Variability),
        composition_priors=read.rows("foods/composition_priors.csv", foods.CompositionPrior),
        diet_tables=read.group("history", diet.DietTables),
        nutrient_targets=read.rows("nutrition/nutrient_targets.csv", nutrition.NutrientTarget),
        nutrients=read.keyed("nutrition/nutrients.csv", nutrition.Nutrient, "nutrient"),
        diet_mix=read.rows("nutrition/diet_mix.csv", nutrition.DietShare),
        trophic_groups=read.rows("nutrition/trophic_groups.csv", nutrition.TrophicGroup),
        agents=read.keyed("nutrition/agents.csv", nutrition.Agent, "agent_id"),
        amount_words=read.keyed("history/amount_words.csv", history.AmountWord, "word"),
        limits=read.keyed("safety/limits.csv", safety.Limit, "limit_id"),
        causes=read.group("clinical", causes.CauseTables),
        surroundings=read.group("environment", surroundings.SurroundingsTables),
    )
