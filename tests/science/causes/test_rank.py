"""The ranking as a whole: orders, intervals, reasons, sets, faults."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baskwell.evidence import load_evidence
from baskwell.science.case.model import Animal, Case, Exam, SignSeen
from baskwell.science.causes.network import REMAINDER
from baskwell.science.causes.rank import Setting, rank_causes, set_up
from baskwell.science.causes.ranking import Cause, Ranking
from baskwell.science.history.belief import Exposure

EVIDENCE = load_evidence()
N = 200
SIGNS = sorted(EVIDENCE.signs)


def exposed(exposure_id: str, probability: float = 1.0, state: str = "known") -> Exposure:
    """An exposure with one probability in all worlds."""
    return Exposure(exposure_id, state, "told by the owner", np.full(N, probability))  # type: ignore[arg-type]


def setting(
    *signs: str,
    taxon: str = "trachemys_scripta",
    severity: int | None = 2,
    exposures: tuple[Exposure, ...] = (),
    absent: tuple[str, ...] = (),
) -> Setting:
    """Set up one animal with signs of one severity."""
    exam = Exam(signs=tuple(SignSeen(s, severity=severity) for s in signs), absent=absent)
    return set_up(Case(Animal(taxon), exam=exam), EVIDENCE, exposures, np.random.default_rng(1), N)


def ranked(here: Setting) -> Ranking:
    """Rank a setting."""
    return rank_causes(here, np.random.default_rng(2), N)


def cause(ranking: Ranking, condition: str) -> Cause:
    """One cause of a ranking."""
    return next(c for c in ranking.causes if c.condition_id == condition)


EYES = ("palpebral_oedema", "ocular_discharge", "anorexia")


def test_swollen_lids_and_no_appetite_in_a_slider_lead_to_vitamin_a() -> None:
    """Textbook picture (Mans & Braun 2014): lids, discharge and anorexia in a young aquatic turtle."""
    ranking = ranked(setting(*EYES, exposures=(exposed("vita_poor"),)))

    assert ranking.causes[0].condition_id == "hypovit_a"


def test_both_orders_are_complete_and_apart() -> None:
    """Every condition stands once in each order; the explaining order sorts by what is explained."""
    ranking = ranked(setting(*EYES))
    n = len(ranking.causes)

    assert sorted(c.rank_by_explaining for c in ranking.causes) == list(range(1, n + 1))
    assert sorted(c.rank_by_posterior for c in ranking.causes) == list(range(1, n + 1))
    explains = [c.explains.median for c in ranking.causes]
    assert explains == sorted(explains, reverse=True)


def test_the_remainder_is_always_there() -> None:
    """Something not on the list stays possible."""
    ranking = ranked(setting(*EYES))

    assert 0 < ranking.remainder.median < 1
    assert cause(ranking, REMAINDER).rank_by_explaining > 1


def test_intervals_hold_the_best_estimate() -> None:
    """The estimate lies within its own 90 % interval, and all are probabilities."""
    for c in ranked(setting(*EYES)).causes:
        assert 0 <= c.posterior.low <= c.posterior.median <= c.posterior.high <= 1
        assert c.explains.low <= c.explains.median <= c.explains.high


def test_nothing_found_ranks_by_how_common_things_are() -> None:
    """Without a present sign the posterior is the prior, and the note says so."""
    here = setting()
    ranking = ranked(here)

    np.testing.assert_allclose(here.posterior, here.problem.prior[:, 0])
    assert "No sign is scored" in ranking.notes[0]


def test_reasons_name_the_sign_and_the_exposure() -> None:
    """What speaks for a cause is told with its weight, the strongest first."""
    found = cause(ranked(setting(*EYES, exposures=(exposed("vita_poor"),))), "hypovit_a")
    keys = [r.key for r in found.reasons_for]

    assert {"palpebral_oedema", "vita_poor"} <= set(keys)
    weights = [abs(r.log_odds) for r in found.reasons_for]
    assert weights == sorted(weights, reverse=True)


def test_an_absent_sign_speaks_against_and_an_unexamined_one_does_not() -> None:
    """No swelling of the lids found on looking lowers the deficiency; not looking leaves it."""
    looked = ranked(setting("anorexia", absent=("palpebral_oedema",)))
    not_looked = ranked(setting("anorexia"))

    assert cause(looked, "hypovit_a").posterior.median < cause(not_looked, "hypovit_a").posterior.median
    assert any(r.kind == "absent sign" for r in cause(looked, "hypovit_a").reasons_against)


def test_a_fault_that_feeds_the_cause_is_ranked_and_a_fact_of_nature_is_not() -> None:
    """Being a lizard is no fault of keeping; a diet without vitamin A is."""
    faults = ranked(
        setting(*EYES, exposures=(exposed("vita_poor"), exposed("lizard_vs_chelonian"), exposed("no_uvb")))
    ).faults

    assert faults[0].exposure_id == "vita_poor"
    assert "lizard_vs_chelonian" not in [f.exposure_id for f in faults]


def test_sets_are_exact_probabilities_of_leading_causes_together() -> None:
    """Probabilities of exactly these sets: sorted, at most one in sum."""
    sets = ranked(setting(*EYES)).joint_sets

    chances = [s.probability for s in sets]
    assert chances == sorted(chances, reverse=True)
    assert 0 < sum(chances) <= 1 + 1e-9


@given(st.lists(st.sampled_from(SIGNS), unique=True, min_size=1, max_size=6), st.integers(1, 3))
@settings(max_examples=15, deadline=None)
def test_every_set_of_signs_gives_a_sound_ranking(signs: list[str], severity: int) -> None:
    """Whatever is found, all figures are finite probabilities and add up."""
    here = setting(*signs, severity=severity)

    assert np.all((here.posterior >= 0) & (here.posterior <= 1))
    assert 0 <= here.explains.sum() <= len(here.problem.present) + 1e-6


@given(st.sampled_from(["vita_poor", "no_uvb", "cold", "cramped"]), st.floats(0, 1))
@settings(max_examples=10, deadline=None)
def test_an_unknown_exposure_leaves_the_ranking_as_it_is(exposure_id: str, probability: float) -> None:
    """A missing fact raises and lowers nothing, whatever prior it carries."""
    unknown = setting(*EYES, exposures=(exposed(exposure_id, probability, "unknown"),))

    np.testing.assert_allclose(unknown.posterior, setting(*EYES).posterior, rtol=1e-12)


def test_a_severe_sign_weighs_more_than_a_mild_one() -> None:
    """A severe sign is seldom background (severity shares, judgement)."""
    mild, severe = (setting("palpebral_oedema", severity=s) for s in (1, 3))
    row = mild.problem.condition_ids.index("hypovit_a")

    assert mild.posterior[row] < severe.posterior[row]


@pytest.mark.slow
def test_means_integrate_parameter_doubt_out() -> None:
    """The posterior at the parameter means equals the evidence-weighted average over parameter draws.

    The joint is linear in each independent parameter, so the mean of joints is the joint of means.
    """
    from baskwell.science.causes.problem import drawn_problem, expected_problem
    from baskwell.science.causes.sweep import exact_marginals

    here = setting("palpebral_oedema", "anorexia")
    plain = expected_problem(here.network, here.seen, (), EVIDENCE)
    drawn = drawn_problem(here.network, here.seen, (), EVIDENCE, np.random.default_rng(3), 60_000)
    found = exact_marginals(drawn.folded, drawn.links, drawn.leak)
    weighted = (found.posterior * found.evidence).sum(axis=1) / found.evidence.sum()

    expected = exact_marginals(plain.folded, plain.links, plain.leak).posterior[:, 0]
    np.testing.assert_allclose(weighted, expected, atol=0.01)
