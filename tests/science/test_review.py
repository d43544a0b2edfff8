"""The review as a whole: repeatable, complete, and never finer than what is known."""

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings

from baskwell.evidence import load_evidence
from baskwell.science.case import parse_case
from baskwell.science.case.model import Animal, Case, Exam, SignSeen, TestResult
from baskwell.science.review import CAUTION, Review, review_case
from strategies import cases

EVIDENCE = load_evidence()
EXAMPLES = Path(__file__).parents[2] / "examples" / "harrow_mill"
TODAY = dt.date(2026, 11, 25)


def example(name: str) -> Case:
    """One of the invented animals."""
    return parse_case((EXAMPLES / f"{name}.toml").read_bytes(), EVIDENCE, today=TODAY)


def reviewed(case: Case) -> Review:
    """Review with few draws."""
    return review_case(case, EVIDENCE, n_draws=200)


@pytest.mark.parametrize("name", ["teasel", "bramble", "flint"])
def test_the_same_seed_gives_the_same_review(name: str) -> None:
    """Everything random comes from the seed."""
    assert reviewed(example(name)) == reviewed(example(name))


def test_a_review_names_what_repeats_it() -> None:
    """Seed, draws, code and evidence version are part of the result, and the caution stands."""
    review = reviewed(example("teasel"))

    assert (review.seed, review.n_draws) == (1, 200)
    assert review.code_version and review.evidence_version == EVIDENCE.version
    assert review.caution == CAUTION


def test_urgent_signs_open_the_headline() -> None:
    """What needs a veterinarian comes before any cause."""
    exam = Exam(signs=(SignSeen("tremor", severity=2),))
    review = reviewed(Case(Animal("pogona_vitticeps", name="Fennel"), exam=exam))

    assert review.headline.startswith("Fennel needs a veterinarian now")


def test_an_empty_case_claims_nothing() -> None:
    """Only a species: no cause is put forward and nothing past is called fine."""
    review = reviewed(Case(Animal("testudo_hermanni")))

    assert "nothing can be ranked" in review.headline
    assert not [f for f in review.findings if f.verdict == "fits"]


def test_tests_are_a_second_pass() -> None:
    """The first ranking does not read the tests; without a readable one there is no second."""
    sick = Case(Animal("testudo_hermanni"), exam=Exam(signs=(SignSeen("nasal_discharge", severity=2),)))
    tested = replace(sick, exam=replace(sick.exam, tests=(TestResult("pcr", "Mycoplasma positive"),)))

    assert reviewed(sick).ranking_with_tests is None
    second = reviewed(tested).ranking_with_tests
    assert second is not None
    assert reviewed(tested).ranking.causes == reviewed(sick).ranking.causes
    assert second.causes[0].condition_id == "mycoplasmosis"


def test_too_few_draws_are_refused() -> None:
    """An interval from ten draws would be invented."""
    with pytest.raises(ValueError, match="n_draws = 10 is too few"):
        review_case(Case(Animal("testudo_hermanni")), EVIDENCE, n_draws=10)


@pytest.mark.slow
@given(cases(EVIDENCE))
@settings(max_examples=15, deadline=None, suppress_health_check=list(HealthCheck))
def test_every_valid_case_can_be_reviewed(case: Case) -> None:
    """Whatever a case file may hold, the review comes through with all its parts."""
    review = reviewed(case)

    assert review.headline.endswith(".")
    assert review.ranking.causes
