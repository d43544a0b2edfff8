"""How much energy an animal needs a day, by the preferred equations, with their disagreement kept.

The order of ``nutrition/README``, conflict 1: a resting need measured in the species, or else the working
rule (E02) and the equation measured in its kind, half of the possible worlds each; times 2.0-2.5 for an
active animal. The clinical rule (E01) is a ceiling of assisted feeding and never multiplied.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from baskwell.evidence import Evidence
from baskwell.evidence.lookup import cover_reaches
from baskwell.evidence.rows.dosing import EnergyChoice
from baskwell.science.case.model import Animal
from baskwell.science.diet.relations import RESTING_STATE, kcal_a_day, refuse_implausible
from baskwell.science.draws import Draws, Summary, pert, summarise
from baskwell.science.history.diet_recall.wanted import life_stage

GROWING = ("hatchling", "juvenile", "subadult")
LAYING = ("gravid", "laid")
PREFERRED_C = 30.0  # E02 note: used at preferred body temperature; E01 and the measurements stand at 30 C
KNOWN = 0.5  # share of the worlds within the temperatures of Q10 from which a need is told


@dataclass(frozen=True)
class EnergyNeed:
    """Energy needed a day in kcal of metabolisable energy, draws of shape ``(n_draws,)``.

    ``need`` is None, with the reason in ``sentences``, where the body is colder or hotter than the
    equations bear. ``rest`` and ``got`` summarise the resting and the whole need; ``relation_ids`` are keys
    of ``baskwell evidence show``.
    """

    rest: Summary | None
    got: Summary | None
    relation_ids: tuple[str, ...]
    sentences: tuple[str, ...]
    need: Draws | None = field(repr=False, compare=False)


def energy_need(
    animal: Animal,
    evidence: Evidence,
    mass_kg: Draws,
    rng: np.random.Generator,
    *,
    temperature_c: Draws | None = None,
    is_active: bool = True,
) -> EnergyNeed:
    """The need of an animal of mass draws ``mass_kg`` (kg, above 0, shape ``(n_draws,)``).

    ``temperature_c``: mean body temperature over the day, same shape; None = as warm as its kind prefers.
    ``is_active`` False for one that hardly moves. The young and layers get the multiplier of growth. Raises
    ValueError for a mass that is not above zero.

    >>> from baskwell.evidence import load_evidence
    >>> iguana = Animal("iguana_iguana", age_class="adult")
    >>> need = energy_need(iguana, load_evidence(), np.full(4000, 1.0), np.random.default_rng(1))
    >>> round(need.rest.median, 1), 17.6 < need.got.median < 21.9          # W26: 8.78, and 17.6-21.9
    (8.8, True)
    """
    kilograms = np.asarray(mass_kg, dtype=np.float64)
    if not bool((np.isfinite(kilograms) & (kilograms > 0)).all()):
        raise ValueError("An energy need needs masses above zero in kg. Weigh the animal first.")
    choices = rest_choices(evidence, animal.taxon)
    rest = resting_kcal(evidence, choices, kilograms, rng, temperature_c)
    ids = tuple(choice.relation_id for choice in choices)
    if float(np.isfinite(rest).mean()) < KNOWN:
        return EnergyNeed(None, None, ids, (_out_of_range(evidence),), None)
    factor, words = _factor(animal, evidence, kilograms.size, rng, is_active)
    need = rest * factor
    got, resting = summarise(need), summarise(rest)
    told = f"At rest {resting.median:.2g} kcal a day ({', '.join(ids)}){words}: {got.median:.2g} in all."
    return EnergyNeed(resting, got, ids, (told,), need)


def rest_choices(evidence: Evidence, taxon_id: str) -> tuple[EnergyChoice, ...]:
    """The resting equations for a taxon: its own where it was measured, else the rule and that of its kind.

    Raises ``ImplausibleRelationError`` where a table names a misprint.

    >>> from baskwell.evidence import load_evidence
    >>> [c.relation_id for c in rest_choices(load_evidence(), "terrapene_ornata")]
    ['E02', 'E04']
    """
    rows = [row for row in _choices(evidence, "rest_own") if cover_reaches(evidence, row.covers, taxon_id)]
    if not rows:
        rows = [row for row in _choices(evidence, "rest") if cover_reaches(evidence, row.covers, taxon_id)]
    for row in rows:
        refuse_implausible(evidence.energy[row.relation_id], evidence, row.low or 30.0)
    return tuple(rows)


def resting_kcal(
    evidence: Evidence,
    choices: Sequence[EnergyChoice],
    mass_kg: Draws,
    rng: np.random.Generator,
    temperature_c: Draws | None = None,
) -> Draws:
    """Resting need in kcal a day; each world holds one of the equations, so their exponents stay apart.

    NaN where the temperature lies outside those between which Q10 may be used (20-35 C).
    """
    drawn = np.array([_resting(evidence, choice, mass_kg, rng, temperature_c) for choice in choices])
    picked = rng.integers(len(choices), size=mass_kg.size)
    return np.asarray(drawn[picked, np.arange(mass_kg.size)])


def _resting(
    evidence: Evidence,
    choice: EnergyChoice,
    mass_kg: Draws,
    rng: np.random.Generator,
    temperature_c: Draws | None,
) -> Draws:
    """One equation at the temperature it holds at, brought to that of the animal by Q10."""
    low, high = choice.low or 0.0, choice.high or 0.0
    reference = pert(rng, low, (low + high) / 2, high, mass_kg.size)
    relation = evidence.energy[choice.relation_id]
    need = kcal_a_day(relation, mass_kg, reference, evidence=evidence, state=RESTING_STATE)
    warm = _choices(evidence, "q10")[0]
    q10 = _q10(evidence, mass_kg.size, rng)
    coldest, hottest = warm.low or 0.0, warm.high or 0.0
    if temperature_c is None:
        body = np.full(mass_kg.size, PREFERRED_C)
    else:
        body = np.asarray(temperature_c, dtype=np.float64)
    scaled = need * q10 ** ((body - reference) / 10.0)
    return np.where((body >= coldest) & (body <= hottest), scaled, np.nan)


def _q10(evidence: Evidence, n_draws: int, rng: np.random.Generator) -> Draws:
    row = evidence.energy[_choices(evidence, "q10")[0].relation_id]
    return pert(rng, row.value_low or 0.0, row.q10 or 0.0, row.value_high or 0.0, n_draws)


def _factor(
    animal: Animal, evidence: Evidence, n_draws: int, rng: np.random.Generator, is_active: bool
) -> tuple[Draws, str]:
    """Multiplier of the resting need, and what it is made of in words."""
    factor, words = np.ones(n_draws), ""
    if is_active:
        row = evidence.energy[_choices(evidence, "activity")[0].relation_id]
        factor = factor * rng.uniform(row.value_low or 1.0, row.value_high or 1.0, n_draws)
        words = f", times {row.value_low:g}-{row.value_high:g} for an active day ({row.id})"
    if life_stage(animal, evidence) in GROWING or animal.reproductive in LAYING:
        choice = _choices(evidence, "growth")[0]
        factor = factor * rng.uniform(choice.low or 1.0, choice.high or 1.0, n_draws)
        words += f", times {choice.low:g}-{choice.high:g} for growth or eggs ({choice.relation_id})"
    return factor, words


def _out_of_range(evidence: Evidence) -> str:
    choice = _choices(evidence, "q10")[0]
    return (
        f"No need can be reckoned outside {choice.low:g}-{choice.high:g} °C of body temperature "
        f"({choice.relation_id}): bring it to its preferred temperature before feeding."
    )


def _choices(evidence: Evidence, use: str) -> list[EnergyChoice]:
    return [choice for choice in evidence.dosing.energy_choices if choice.use == use]
