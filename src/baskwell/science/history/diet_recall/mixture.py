"""All lines together: what the whole diet held per kg of dry matter and per 1000 kcal, and who brought it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from baskwell.evidence.catalogue import Evidence
from baskwell.evidence.covers import species_beneath
from baskwell.evidence.rows.foods import Food
from baskwell.science.case.model import Animal
from baskwell.science.draws import Draws, pert
from baskwell.science.history.diet_recall.plate import NUTRIENTS, ROW, WATER, WHOLE, Array, Chosen, Plate
from baskwell.science.history.diet_recall.priors import Priors

PER_KG = 10.0
G_PER_KG = 1000.0
NO_MASS_G = (20.0, 5000.0)  # g; only where neither the animal nor its kind gives a mass


@dataclass(frozen=True)
class Portion:
    """One food of one line: its share of the diet as fed and of the dry matter, each (n_draws,)."""

    key: str
    food: Food
    as_fed: Draws = field(repr=False)
    dry: Draws = field(repr=False)
    mean_dry: float = 0.0


@dataclass(frozen=True)
class Mixture:
    """The diet as one food.

    ``per_kg`` (n_nutrients, n_draws): units of ``NUTRIENTS`` per kg of dry matter (water: per kg as fed).
    ``brought`` maps each line to its part of that, in the same unit. ``kcal_per_kg`` is metabolisable
    energy per kg of dry matter.
    """

    portions: tuple[Portion, ...]
    per_kg: Array = field(repr=False)
    brought: Mapping[str, Array] = field(repr=False)
    kcal_per_kg: Draws = field(repr=False)

    def dry_share(self, chosen: Chosen) -> Draws:
        """Share of the dry matter from the foods for which ``chosen`` holds."""
        return self._sum([p.dry for p in self.portions if chosen(p.food)])

    def as_fed_share(self, chosen: Chosen) -> Draws:
        """Share of the weight as fed from the foods for which ``chosen`` holds."""
        return self._sum([p.as_fed for p in self.portions if chosen(p.food)])

    def of_line(self, key: str) -> tuple[Draws, Draws]:
        """Share as fed and of the dry matter of one line of the history."""
        mine = [p for p in self.portions if p.key == key]
        return self._sum([p.as_fed for p in mine]), self._sum([p.dry for p in mine])

    def _sum(self, parts: Sequence[Draws]) -> Draws:
        total = np.zeros(self.kcal_per_kg.shape)
        for part in parts:
            total += part
        return total


def mix(plates: Sequence[Plate], priors: Priors) -> Mixture:
    """Add up plates to one diet. Portion sizes cancel: only the shares of the lines count."""
    lines: dict[str, Array] = {}
    for plate in plates:
        held = plate.per_gram_offered()
        if not plate.weighs:
            held[WATER] = 0.0
        lines[plate.key] = lines[plate.key] + held if plate.key in lines else held
    weight = np.sum([plate.share for plate in plates if plate.weighs], axis=0)
    total = np.sum(list(lines.values()), axis=0)
    dry = WHOLE * weight - total[WATER]
    scale = WHOLE * PER_KG / dry
    per_kg = total * scale
    per_kg[WATER] = total[WATER] / weight * PER_KG
    return Mixture(
        portions=tuple(_portions(plates, weight, dry)),
        per_kg=per_kg,
        brought={key: held * scale for key, held in lines.items()},
        kcal_per_kg=_energy(per_kg, priors),
    )


def _portions(plates: Sequence[Plate], weight: Draws, dry: Draws) -> list[Portion]:
    found = []
    for plate in plates:
        for part in plate.parts if plate.weighs else ():
            grams = plate.share * part.within
            matter = grams * (WHOLE - part.content[WATER]) / dry
            found.append(Portion(plate.key, part.food, grams / weight, matter, float(matter.mean())))
    return found


def _energy(per_kg: Array, priors: Priors) -> Draws:
    """Metabolisable energy per kg of dry matter by energy.csv D01-D03, and D04 for plant eaters."""
    factor = {key: _kcal_per_g(priors.evidence, key) for key in ("D01", "D02", "D03", "D04")}
    protein, fat, fibre, ash = (per_kg[ROW[f"{n}_g"]] for n in ("protein", "fat", "crude_fibre", "ash"))
    rest = np.maximum(G_PER_KG - protein - fat - fibre - ash, 0.0)
    kcal = factor["D01"] * rest + factor["D02"] * protein + factor["D03"] * fat
    if priors.reaches("tag:herbivorous"):
        kcal = kcal + factor["D04"] * fibre * priors.of("fibre_fermented")
    return np.asarray(np.maximum(kcal, 1.0))


def _kcal_per_g(evidence: Evidence, relation_id: str) -> float:
    value = evidence.energy[relation_id].value_low
    if value is None:
        raise ValueError(f"energy.csv row {relation_id} has no value: kcal per g is needed there.")
    return value


def eaten_a_day(mixture: Mixture, animal: Animal, need_met: Draws | None, priors: Priors) -> Draws:
    """Food eaten a day in g as fed: resting need (energy.csv E02) times a judged multiple, by energy density.

    ``need_met`` is the part of its need that the animal was given, where that was told.
    """
    rest = priors.evidence.energy["E02"]
    kilograms = _mass_g(animal, priors) / G_PER_KG
    kcal = (rest.coefficient or 0.0) * kilograms ** (rest.exponent or 0.0)
    kcal = kcal * (
        priors.of("intake_of_rest") if need_met is None else need_met * priors.of("intake_of_rest")
    )
    dry = 1.0 - mixture.per_kg[WATER] / G_PER_KG
    return np.asarray(kcal / (mixture.kcal_per_kg * dry) * G_PER_KG)


def _mass_g(animal: Animal, priors: Priors) -> Draws:
    if animal.mass_g is not None:
        return priors.told(animal.mass_g, 0.0, 3.0 * (animal.mass_g.low or NO_MASS_G[1]))
    kinds = species_beneath(priors.evidence, animal.taxon)
    lows = [kind.adult_mass_g_low for kind in kinds if kind.adult_mass_g_low is not None]
    highs = [kind.adult_mass_g_high for kind in kinds if kind.adult_mass_g_high is not None]
    low, high = min(lows, default=NO_MASS_G[0]), max(highs, default=NO_MASS_G[1])
    return np.exp(pert(priors.rng, np.log(low), np.log(low * high) / 2.0, np.log(high), priors.n_draws))


def density_per_1000_kcal(mixture: Mixture, nutrient: str) -> Draws:
    """One nutrient per 1000 kcal of metabolisable energy: per kg dry matter / kcal per kg x 1000."""
    return np.asarray(mixture.per_kg[ROW[nutrient]] / mixture.kcal_per_kg * G_PER_KG)


def known_part(plates: Sequence[Plate], mixture: Mixture, nutrient: str) -> float:
    """Mean share of the dry matter from foods for which the tables know this nutrient, or bound it."""
    j = NUTRIENTS.index(nutrient)
    known = [not part.borrowed[j] for plate in plates if plate.weighs for part in plate.parts]
    return sum(p.mean_dry for p, is_known in zip(mixture.portions, known, strict=True) if is_known)
