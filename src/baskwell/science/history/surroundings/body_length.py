"""How long the animal is: measured, or what its species and age let expect."""

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from baskwell.evidence.rows.clinical import Taxon
from baskwell.science.draws import Draws, pert
from baskwell.science.history.surroundings.scene import Scene
from baskwell.science.history.surroundings.spans import stated

_STREAM = "length"
_MONTHS = {"hatchling": 3.0, "juvenile": 9.0, "subadult": 18.0}
"""Ages in months by which rules with an age ask, where only a class is known (judgement)."""


@dataclass(frozen=True)
class BodyLength:
    """Body length in cm by kind (SCL, SVL, TL), draws of shape ``(n_draws,)``; empty where not known.

    ``told`` says where it comes from; ``age_months`` is infinite for a grown animal or unknown age.
    """

    by_kind: Mapping[str, Draws] = field(repr=False)
    told: str
    age_months: Draws = field(repr=False)


def read_body_length(scene: Scene) -> BodyLength:
    """The measured length; else the adult length of the species, lessened for a young animal.

    An animal of unknown age counts as grown: it will be.
    """
    measured = _measured(scene)
    age = _age_months(scene)
    if measured:
        return BodyLength(_with_conversions(scene, measured), "measured", age)
    species = [taxon for taxon in scene.species if taxon.adult_length_mm_low]
    if not species:
        return BodyLength({}, "not known", age)
    grown, kind = _grown(scene, species)
    share = _share_of_adult(scene, species)
    told = "of a grown animal of its kind" if np.all(share == 1.0) else "for its age"
    return BodyLength(_with_conversions(scene, {kind: grown * share}), told, age)


def _measured(scene: Scene) -> dict[str, Draws]:
    animal = scene.case.animal
    spans = {
        "SCL": animal.straight_carapace_length_mm,
        "SVL": animal.snout_vent_length_mm,
        "TL": animal.total_length_mm,
    }
    found = {kind: stated(scene, span, _STREAM) / 10 for kind, span in spans.items() if span is not None}
    if not found and animal.plastron_length_mm is not None:
        ratio = scene.prior("carapace_per_plastron", _STREAM)
        found["SCL"] = stated(scene, animal.plastron_length_mm, _STREAM) / 10 * ratio
    return found


def _with_conversions(scene: Scene, found: dict[str, Draws]) -> dict[str, Draws]:
    """Add total from snout-vent length, or the other way round, for a lizard or snake."""
    clade = scene.evidence.taxa[scene.taxon_id].clade
    if clade not in ("lizard", "snake"):
        return found
    ratio = scene.prior(f"total_per_snout_vent_{clade}", _STREAM)
    if "SVL" in found and "TL" not in found:
        return {**found, "TL": found["SVL"] * ratio}
    if "TL" in found and "SVL" not in found:
        return {**found, "SVL": found["TL"] / ratio}
    return found


def _grown(scene: Scene, species: list[Taxon]) -> tuple[Draws, str]:
    """Adult length in cm; each world takes one species where only a higher name is known."""
    rng = scene.streams[_STREAM]
    kind = species[0].length_kind
    species = [taxon for taxon in species if taxon.length_kind == kind]
    which = rng.integers(len(species), size=scene.n_draws)
    lows = np.array([taxon.adult_length_mm_low or 0.0 for taxon in species]) / 10
    highs = (
        np.array([taxon.adult_length_mm_high or taxon.adult_length_mm_low or 0.0 for taxon in species]) / 10
    )
    between = pert(rng, 0.0, 0.5, 1.0, scene.n_draws)
    return np.asarray(lows[which] + (highs - lows)[which] * between), kind


def _share_of_adult(scene: Scene, species: list[Taxon]) -> Draws:
    animal = scene.case.animal
    if animal.age_class in _MONTHS:
        return scene.prior(f"{animal.age_class}_share", _STREAM)
    years = [taxon.years_to_adult_length_low for taxon in species if taxon.years_to_adult_length_low]
    if animal.age_class in ("adult", "old") or animal.age_years is None or not years:
        return np.ones(scene.n_draws)
    latest = max(taxon.years_to_adult_length_high or 0.0 for taxon in species)
    to_adult = scene.streams[_STREAM].uniform(min(years), max(latest, min(years)), scene.n_draws)
    grown = np.minimum(1.0, stated(scene, animal.age_years, _STREAM) / to_adult)
    start = scene.prior("at_hatching_share", _STREAM)
    return np.asarray(start + (1.0 - start) * grown)


def _age_months(scene: Scene) -> Draws:
    animal = scene.case.animal
    if animal.age_years is not None:
        return 12.0 * stated(scene, animal.age_years, _STREAM)
    return np.full(scene.n_draws, _MONTHS.get(animal.age_class or "", np.inf))
