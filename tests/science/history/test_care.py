"""Past care reconstructed: all parts, in reading order, each with a generator of its own."""

from typing import get_args

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings

from baskwell.evidence import load_evidence
from baskwell.science.case.model import (
    Amount,
    Animal,
    Case,
    DietItem,
    Event,
    History,
    Light,
    Surroundings,
)
from baskwell.science.case.span import Span
from baskwell.science.history.care import CareHistory, reconstruct_care
from baskwell.science.history.exposures.rules import RULES
from baskwell.science.history.finding import Topic
from strategies import cases

EVIDENCE = load_evidence()
CATS = (DietItem("cat_food_dry", Amount(word="mostly")), DietItem("apple", Amount(word="sometimes")))
LAMP = (Light("uvb_tube_t5_ho_6pct", distance_cm=Span.exactly(35.0), barrier="mesh"),)
PLACE = Surroundings(basking_surface_c=Span.exactly(29.0), night_c=Span.exactly(19.0), water="dish")


def care(history: History, n_draws: int = 200, seed: int = 1) -> CareHistory:
    """The care of an invented box turtle."""
    case = Case(Animal("terrapene_carolina"), history)
    return reconstruct_care(case, EVIDENCE, np.random.default_rng(seed), n_draws)


FULL = History(diet=CATS, lights=LAMP, surroundings=PLACE)


def test_findings_come_in_reading_order() -> None:
    """Diet, light, heat, humidity, space, substrate, water, hygiene: the order of the topics."""
    topics = [finding.topic for finding in care(FULL).findings]
    order = list(get_args(Topic))
    assert topics == sorted(topics, key=order.index)
    assert set(topics) >= {"diet", "light", "heat"}


def test_an_empty_history_knows_nothing_and_asks() -> None:
    """Every finding is "not known", no diet is recalled, and exposures carry their usual share."""
    past = care(History())
    assert past.diet is None
    assert dict(past.labels) == {}
    assert {finding.verdict for finding in past.findings} == {"not known"}
    assert len(past.exposures) == len(RULES)


def test_every_part_has_its_own_generator() -> None:
    """An event added leaves the draws of diet, light and surroundings as they were; so does a lamp."""
    plain = care(FULL)
    fallen = care(History(diet=CATS, lights=LAMP, surroundings=PLACE, events=(Event(kind="fall"),)))
    dark = care(History(diet=CATS, surroundings=PLACE))
    for finding, other in zip(plain.findings, fallen.findings, strict=True):
        assert finding.finding_id == other.finding_id
        if finding.draws is not None:
            assert np.array_equal(finding.draws, other.draws)  # type: ignore[arg-type]  # both have draws
    assert plain.diet is not None
    assert dark.diet is not None
    assert np.array_equal(plain.diet.eaten_g_per_day, dark.diet.eaten_g_per_day)


def test_the_same_seed_gives_the_same_care() -> None:
    """Findings, gaps and exposures are fixed by the generator."""
    once, again = care(FULL), care(FULL)
    assert once.findings == again.findings
    assert once.gaps == again.gaps
    assert all(
        np.array_equal(one.probability, other.probability)
        for one, other in zip(once.exposures, again.exposures, strict=True)
    )


def test_gaps_are_sentences_said_once_and_name_contradictions() -> None:
    """Stated and denied at once is told in the words of the exposure."""
    past = care(History(diet=CATS, stated_exposures=("cold",), denied_exposures=("cold",)))
    assert len(past.gaps) == len(set(past.gaps))
    assert all(gap.endswith((".", "?")) for gap in past.gaps)
    assert any("stated and denied at once" in gap for gap in past.gaps)


def test_more_draws_settle_the_means() -> None:
    """4,000 draws of two seeds agree to 3 in 100: the error of a share is below 0.008, seven times less."""
    one, other = care(FULL, 4000, 1), care(FULL, 4000, 2)
    for first, second in zip(one.exposures, other.exposures, strict=True):
        assert first.mean == pytest.approx(second.mean, abs=0.03), first.exposure_id


@pytest.mark.slow
@given(cases(EVIDENCE))
@settings(max_examples=20, deadline=None, suppress_health_check=list(HealthCheck))
def test_any_valid_case_is_reconstructed(case: Case) -> None:
    """Whatever a valid file may state."""
    past = reconstruct_care(case, EVIDENCE, np.random.default_rng(0), 100)
    assert {exposure.probability.shape for exposure in past.exposures} == {(100,)}
    assert [exposure.exposure_id for exposure in past.exposures] == list(RULES)
