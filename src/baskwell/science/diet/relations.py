"""The published relations of mass and energy, evaluated in one unit: kcal a day."""

from collections.abc import Callable, Mapping

import numpy as np

from baskwell.evidence import Evidence
from baskwell.evidence.rows.nutrition import EnergyRelation
from baskwell.science.draws import Draws

G_PER_KG = 1000.0
KJ_PER_KCAL = 4.184
HOURS = 24.0
CHECKED_KG = (0.02, 0.1, 1.0, 10.0, 100.0)  # masses at which a relation must make sense
RESTING_STATE = 1.0
Form = Callable[[float, Draws, float, Draws, float], Draws]

# The forms that energy.csv writes its equations in: coefficient, mass, exponent, temperature, state.
_FORMS: Mapping[str, Form] = {
    "a*M^b": lambda a, mass, b, _t, _s: a * mass**b,
    "a*M^b*10^(0.038*T)*10^(0.14*state), state 0 standard, 1 resting": lambda a, mass, b, t, s: (
        a * mass**b * 10.0 ** (0.038 * t) * 10.0 ** (0.14 * s)
    ),
}


class ImplausibleRelationError(ValueError):
    """A resting need above what a free animal spends in a day: a misprint, or not a resting need."""


def kcal_a_day(
    relation: EnergyRelation,
    mass_kg: Draws,
    temperature_c: Draws | float = 30.0,
    *,
    evidence: Evidence,
    state: float = 0.0,
) -> Draws:
    """One equation of ``energy.csv`` at a mass in kg, in kcal a day, element by element.

    ``temperature_c`` counts only where the equation holds a temperature; ``state`` 0 is standard, 1
    resting. Raises ValueError where the row is no such equation.

    >>> from baskwell.evidence import load_evidence
    >>> evidence = load_evidence()
    >>> need = kcal_a_day(evidence.energy["E01"], np.array([0.4]), evidence=evidence)   # W01: 16.095
    >>> round(float(need[0]), 1)
    16.1
    """
    form = _FORMS.get(relation.equation)
    if form is None or relation.coefficient is None or relation.exponent is None:
        raise ValueError(f"energy.csv row {relation.id} holds no equation that gives a need.")
    mass = np.asarray(mass_kg, dtype=np.float64) * (G_PER_KG if relation.mass_unit == "g" else 1.0)
    warmth = np.asarray(temperature_c, dtype=np.float64)
    value = form(relation.coefficient, mass, relation.exponent, warmth, state)
    return np.asarray(value * _to_kcal(relation, evidence))


def refuse_implausible(relation: EnergyRelation, evidence: Evidence, temperature_c: float = 30.0) -> None:
    """Check a resting need against the whole day of a free animal (E05), from 20 g to 100 kg.

    A free day is dearer than rest (M01, X01), so a rest above it is a misprint such as E02b, or means
    something else, as E01 does. Raises ``ImplausibleRelationError`` with the figures.

    >>> from baskwell.evidence import load_evidence
    >>> refuse_implausible(load_evidence().energy["E02"], load_evidence())
    >>> refuse_implausible(load_evidence().energy["E02b"], load_evidence())
    Traceback (most recent call last):
    ...
    baskwell.science.diet.relations.ImplausibleRelationError: energy.csv row E02b gives 425 kcal a day ...
    """
    kilograms = np.array(CHECKED_KG)
    rest = kcal_a_day(relation, kilograms, temperature_c, evidence=evidence)
    free = kcal_a_day(evidence.energy["E05"], kilograms, evidence=evidence)
    if bool((rest > free).any()):
        one = CHECKED_KG.index(1.0)
        raise ImplausibleRelationError(
            f"energy.csv row {relation.id} gives {rest[one]:.0f} kcal a day at 1 kg, a free animal spends "
            f"{free[one]:.0f} (E05): it cannot be a resting need. Correct the row or do not use it."
        )


def _to_kcal(relation: EnergyRelation, evidence: Evidence) -> float:
    if relation.output_unit == "kcal/day":
        return 1.0
    if relation.output_unit == "kJ/day":
        return 1.0 / KJ_PER_KCAL
    if relation.output_unit == "mL O2/hour":
        joules = evidence.energy["D09"].value_low or 0.0
        return HOURS * joules / (KJ_PER_KCAL * 1000.0)
    raise ValueError(
        f"energy.csv row {relation.id} gives {relation.output_unit!r}, which is no energy a day."
    )
