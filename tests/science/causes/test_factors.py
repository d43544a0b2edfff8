"""Exposures, age, sex and course as multipliers of odds."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baskwell.evidence import load_evidence
from baskwell.science.case.model import Animal, Case, Exam, SignSeen
from baskwell.science.case.span import Span
from baskwell.science.causes.factors import (
    Factor,
    age_class,
    animal_factors,
    combine,
    course_factors,
    exposure_factors,
)
from baskwell.science.causes.network import build_network
from baskwell.science.history.belief import Exposure

EVIDENCE = load_evidence()
SHARES = {row.exposure_id: row.mode for row in EVIDENCE.exposure_priors.values()}
N = 400


def believed(exposure_id: str, probability: float, state: str = "known") -> Exposure:
    """An exposure believed with one probability in every world."""
    return Exposure(exposure_id, state, "told", np.full(N, probability))  # type: ignore[arg-type]


def effect_of(exposure: Exposure, target: str, taxon: str = "testudo_hermanni") -> float:
    """The mean multiplier that one exposure puts on one condition."""
    factors = exposure_factors([exposure], EVIDENCE, taxon, SHARES, np.random.default_rng(1))
    return next((float(f.multiplier.mean()) for f in factors if f.target == target), 1.0)


def test_an_unknown_exposure_moves_nothing() -> None:
    """A fact that is missing raises and lowers nothing."""
    assert effect_of(believed("no_uvb", 0.4, "unknown"), "nshp") == 1.0


def test_exposed_raises_and_unexposed_lowers() -> None:
    """The baseline averages over exposed and unexposed animals, so both answers count."""
    assert effect_of(believed("no_uvb", 1.0), "nshp") > 1.5
    assert effect_of(believed("no_uvb", 0.0), "nshp") < 0.8


def test_the_share_of_presented_animals_is_neutral() -> None:
    """Expected: exactly 1 by construction, (q LR + 1 - q) / (q LR + 1 - q)."""
    assert effect_of(believed("no_uvb", SHARES["no_uvb"]), "nshp") == pytest.approx(1.0, abs=1e-12)


def test_no_effect_outside_the_taxon_of_the_row() -> None:
    """No UVB acts in diurnal lizards and chelonians (exposures.csv); a ball python is neither."""
    assert effect_of(believed("no_uvb", 1.0), "nshp", "python_regius") == 1.0


@given(st.floats(0, 1), st.floats(0, 1))
@settings(max_examples=40, deadline=None)
def test_more_exposed_never_means_less_likely(one: float, other: float) -> None:
    """The multiplier of a raising exposure grows with the probability of exposure."""
    low, high = sorted((one, other))

    assert effect_of(believed("cold", low), "chronic_cold") <= effect_of(
        believed("cold", high), "chronic_cold"
    )


def test_a_male_cannot_be_egg_bound() -> None:
    """Definition: only females carry eggs."""
    case = Case(Animal("trachemys_scripta", sex="male"))
    factors = animal_factors(case, EVIDENCE, np.random.default_rng(1), N)

    assert float(combine(factors, "dystocia", 0.6, N).max()) == 0.0


@pytest.mark.parametrize(("years", "expected"), [(0.05, "hatchling"), (0.4, "juvenile"), (6.0, "adult")])
def test_age_class_from_age(years: float, expected: str) -> None:
    """Expected: against the years to adult length of taxa.csv (bearded dragon, 1 to 2 years)."""
    case = Case(Animal("pogona_vitticeps", age_years=Span.exactly(years)))

    assert age_class(case, EVIDENCE) == expected


def test_unknown_age_stays_unknown() -> None:
    """No age, no age class, no factor."""
    assert age_class(Case(Animal("pogona_vitticeps")), EVIDENCE) is None


def course(condition: str, days: float | None, onset: str | None = None) -> float:
    """The multiplier of the course on one condition of a tortoise off its food."""
    sign = SignSeen("anorexia", severity=3, since_days=None if days is None else Span.exactly(days))
    case = Case(Animal("testudo_hermanni"), exam=Exam(signs=(sign,), onset=onset))
    network = build_network(EVIDENCE, "testudo_hermanni")
    factors = list(course_factors(case, {"anorexia": sign}, network, EVIDENCE, np.random.default_rng(1), N))
    return float(combine(factors, condition, 0.6, N).mean())


def test_a_story_of_a_year_speaks_against_septicaemia_but_not_against_bone_disease() -> None:
    """Acute infection ends one way or the other within weeks (onset classes, judgement)."""
    assert course("septicaemia", 365) < 0.2
    assert course("renal_disease", 365) == 1.0


def test_a_sudden_start_speaks_for_injury_and_against_kidney_disease() -> None:
    """Direction by class of onset."""
    assert course("trauma", None, "sudden") > 1 > course("renal_disease", None, "sudden")


def test_course_not_told_moves_nothing() -> None:
    """No duration and no onset: every multiplier is one."""
    assert course("septicaemia", None) == 1.0


@given(st.lists(st.floats(1.0, 50.0), min_size=1, max_size=6))
@settings(max_examples=40, deadline=None)
def test_overlapping_exposures_never_count_more_than_their_product(ratios: list[float]) -> None:
    """Faults of one animal overlap: together more than the strongest, less than the product."""
    factors = [Factor("c", "exposure", str(k), "", "", np.full(3, r)) for k, r in enumerate(ratios)]

    joint = float(combine(factors, "c", 0.6, 3)[0])

    assert max(ratios) - 1e-9 <= joint <= np.prod(ratios) * (1 + 1e-9)
