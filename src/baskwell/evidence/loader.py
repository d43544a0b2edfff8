"""Read the evidence tables into typed rows."""

import csv
import hashlib
import types
import typing
from collections.abc import Callable, Mapping
from dataclasses import fields
from functools import cache
from pathlib import Path
from typing import Any, TypeVar

from baskwell.evidence.catalogue import Evidence, Source
from baskwell.evidence.rows import (
    causes,
    clinical,
    diet,
    environment,
    exposures,
    foods,
    history,
    labels,
    nutrition,
    safety,
    surroundings,
)

DATA = Path(__file__).parent / "data"
Row = TypeVar("Row")


@cache
def load_evidence() -> Evidence:
    """Load the shipped tables. First cut: the schema-checked loader replaces it."""
    return Evidence(
        version="0.1.0+" + _digest(),
        taxa=_keyed("clinical/taxa.csv", clinical.Taxon, "taxon_id"),
        taxon_groups=_keyed("clinical/taxon_groups.csv", clinical.TaxonGroup, "taxon_string"),
        taxon_names=_rows("clinical/taxon_names.csv", clinical.TaxonName),
        signs=_keyed("clinical/signs.csv", clinical.Sign, "sign_id"),
        conditions=_keyed("clinical/conditions.csv", clinical.Condition, "condition_id"),
        exposure_effects=_rows("clinical/exposures.csv", clinical.ExposureEffect),
        exposure_priors=_keyed("clinical/exposure_priors.csv", exposures.ExposurePrior, "exposure_id"),
        exposure_judgements=_keyed(
            "clinical/exposure_judgements.csv", exposures.ExposureJudgement, "judgement_id"
        ),
        history_words=_rows("clinical/history_words.csv", exposures.HistoryWord),
        links=_rows("clinical/links_empirical.csv", clinical.Link),
        prevalence=_rows("clinical/prevalence.csv", clinical.Prevalence),
        lamps=_keyed("environment/lamps.csv", environment.Lamp, "lamp_id"),
        light_facts=_rows("environment/light.csv", environment.LightFact),
        light_priors=_rows("environment/light_priors.csv", environment.LightPrior),
        species_environment=_rows("environment/species_environment.csv", environment.SpeciesEnvironment),
        parameters=_keyed("environment/parameters.csv", environment.EnvironmentParameter, "parameter"),
        tank_sizes=_rows("environment/tank_sizes.csv", environment.TankSize),
        foods=_keyed("foods/foods.csv", foods.Food, "food_id"),
        variability=_rows("foods/variability.csv", foods.Variability),
        composition_priors=_rows("foods/composition_priors.csv", foods.CompositionPrior),
        measures=_rows("foods/measures.csv", foods.Measure),
        labels=_keyed("foods/labels.csv", foods.LabelArchetype, "label_id"),
        feed_labels=_feed_labels(),
        diet_tables=_diet_tables(),
        energy=_keyed("nutrition/energy.csv", nutrition.EnergyRelation, "id"),
        nutrient_targets=_rows("nutrition/nutrient_targets.csv", nutrition.NutrientTarget),
        nutrients=_keyed("nutrition/nutrients.csv", nutrition.Nutrient, "nutrient"),
        diet_mix=_rows("nutrition/diet_mix.csv", nutrition.DietShare),
        trophic_groups=_rows("nutrition/trophic_groups.csv", nutrition.TrophicGroup),
        agents=_keyed("nutrition/agents.csv", nutrition.Agent, "agent_id"),
        amount_words=_keyed("history/amount_words.csv", history.AmountWord, "word"),
        limits=_keyed("safety/limits.csv", safety.Limit, "limit_id"),
        sources=_sources(),
        causes=_causes(),
        surroundings=_surroundings(),
    )


def _causes() -> causes.CauseTables:
    """The tables of the ranking, each named as its field."""
    kinds = typing.get_type_hints(causes.CauseTables)
    return causes.CauseTables(
        **{name: _rows(f"clinical/{name}.csv", typing.get_args(kind)[0]) for name, kind in kinds.items()}
    )


def _surroundings() -> surroundings.SurroundingsTables:
    """The tables on heat, humidity, space and substrate, each named as its field."""
    kinds = typing.get_type_hints(surroundings.SurroundingsTables)
    return surroundings.SurroundingsTables(
        **{name: _rows(f"environment/{name}.csv", typing.get_args(kind)[0]) for name, kind in kinds.items()}
    )


def _diet_tables() -> diet.DietTables:
    """The tables of diet recall, each named as its field."""
    kinds = typing.get_type_hints(diet.DietTables)
    return diet.DietTables(
        **{name: _rows(f"history/{name}.csv", typing.get_args(kind)[0]) for name, kind in kinds.items()}
    )


def _feed_labels() -> labels.FeedLabelTables:
    """The tables of label reading, each named as its field."""
    kinds = typing.get_type_hints(labels.FeedLabelTables)
    return labels.FeedLabelTables(
        **{name: _rows(f"foods/{name}.csv", typing.get_args(kind)[0]) for name, kind in kinds.items()}
    )


def _digest() -> str:
    digest = hashlib.sha256()
    for path in sorted(DATA.rglob("*.csv")):
        digest.update(path.read_bytes())
    return digest.hexdigest()[:12]


def _read(name: str) -> list[dict[str, str]]:
    with (DATA / name).open(newline="", encoding="utf-8") as handle:
        return list(csv.DictReader(handle))


def _rows(name: str, kind: type[Row]) -> tuple[Row, ...]:
    return tuple(_typed(raw, kind) for raw in _read(name))


def _keyed(name: str, kind: type[Row], key: str) -> Mapping[str, Row]:
    return types.MappingProxyType({getattr(row, key): row for row in _rows(name, kind)})


def _typed(raw: dict[str, str], kind: type[Row]) -> Row:
    low = {key.lower(): value for key, value in raw.items()}
    values: dict[str, Any] = {}
    for field in fields(kind):  # type: ignore[arg-type]
        text = low.get(field.name.rstrip("_"), "")
        values[field.name] = _convert(field.type)(text)
    return kind(**values)


def _convert(kind: Any) -> Callable[[str], Any]:
    if kind is float:
        return float
    if kind is bool:
        return lambda text: text == "y"
    if typing.get_origin(kind) is tuple:
        return lambda text: tuple(part.strip() for part in text.split(";") if part.strip())
    if kind is str or typing.get_origin(kind) is typing.Literal:
        return str
    if kind is int:
        return int
    if int in typing.get_args(kind):
        return lambda text: int(text) if text else None
    if bool in typing.get_args(kind):
        return lambda text: None if text == "" else text == "y"
    return _maybe_float


def _maybe_float(text: str) -> float | None:
    try:
        return float(text)
    except ValueError:
        return None


def _sources() -> Mapping[str, Source]:
    return _keyed("sources.csv", Source, "source_id")
