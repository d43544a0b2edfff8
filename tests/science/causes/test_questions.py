"""The next best question and what its answers do."""

import numpy as np
import pytest

from baskwell.evidence import load_evidence
from baskwell.science.case.model import Animal, Case, Exam, SignSeen
from baskwell.science.causes.questions import apply_answer, next_questions, would_change_nothing
from baskwell.science.causes.rank import Setting, set_up
from baskwell.science.causes.ranking import Question
from baskwell.science.history.belief import Exposure

EVIDENCE = load_evidence()
N = 100


def unknown_exposures() -> tuple[Exposure, ...]:
    """Nothing told: every exposure at its usual share."""
    priors = EVIDENCE.exposure_priors.values()
    return tuple(Exposure(p.exposure_id, "unknown", "", np.full(N, p.mode)) for p in priors)


def setting(case: Case) -> Setting:
    """Set up a case of which no history is known."""
    return set_up(case, EVIDENCE, unknown_exposures(), np.random.default_rng(1), N)


SLIDER = Case(
    Animal("trachemys_scripta"),
    exam=Exam(signs=(SignSeen("palpebral_oedema", severity=2), SignSeen("anorexia", severity=2))),
)
HERE = setting(SLIDER)
QUESTIONS = next_questions(HERE)


def first(kind: str) -> Question:
    """The best question of a kind."""
    return next(q for q in QUESTIONS if q.kind == kind)


def test_questions_come_by_worth_and_of_every_kind() -> None:
    """Exposures, signs and tests compete on information per minute."""
    worth = [q.worth for q in QUESTIONS]

    assert worth == sorted(worth, reverse=True)
    assert {q.kind for q in QUESTIONS} == {"exposure", "sign", "test"}
    assert all(q.information_bits >= 0 and 0 <= q.chance_top_changes <= 1 for q in QUESTIONS)


def test_swollen_lids_ask_for_the_diet_among_the_first() -> None:
    """Before anything else is known, what it ate decides on vitamin A (textbook first question)."""
    first_keys = [q.key for q in QUESTIONS if q.kind == "exposure"][:6]

    assert {"vita_poor", "vita_injection", "single_food", "wet_dirty"} & set(first_keys)


def test_a_sign_already_looked_for_is_not_asked_again() -> None:
    """Present, absent and set-aside signs are no questions."""
    asked = {q.key for q in QUESTIONS if q.kind == "sign"}

    assert not asked & {"palpebral_oedema", "anorexia", "eyes_closed", "urtd_any"}


@pytest.mark.parametrize("kind", ["exposure", "sign", "test"])
def test_not_known_is_always_an_answer_and_changes_nothing(kind: str) -> None:
    """The owner may not know, and says so as easily as anything else."""
    question = first(kind)

    assert question.answers[-1][0] == "not known"
    assert apply_answer(SLIDER, question, "not known", HERE.evidence) == SLIDER


def test_an_answer_moves_the_ranking_as_foretold() -> None:
    """Answering a sign question gives the posterior that the question computed for it."""
    question = first("sign")
    after = setting(apply_answer(SLIDER, question, "no", HERE.evidence))

    assert question.key in after.seen.absent
    assert question.key not in {q.key for q in next_questions(after)}


def test_an_owner_statement_is_written_into_the_case() -> None:
    """The first answer of an exposure question states it, a denying one denies it."""
    question = first("exposure")
    told = apply_answer(SLIDER, question, question.answers[0][0], HERE.evidence)
    history = told.history

    assert question.key in (*history.stated_exposures, *history.denied_exposures)


def test_an_answer_that_is_not_offered_is_refused_with_the_choices() -> None:
    """The message names the question and what may be answered."""
    question = first("sign")

    with pytest.raises(ValueError, match="choose one of no, mild, moderate, severe, not known"):
        apply_answer(SLIDER, question, "perhaps", HERE.evidence)


def test_no_sign_no_question() -> None:
    """Without a present sign there is no ranking to change."""
    assert next_questions(setting(Case(Animal("trachemys_scripta")))) == ()
    assert would_change_nothing(())


def test_expected_information_is_exact_for_a_sign() -> None:
    """Expected: by total probability the mean of both outcomes' posteriors is the posterior now."""
    from baskwell.science.causes.questions import _sign_candidates

    for c in _sign_candidates(HERE):
        average = c.chance_yes * c.after_yes + (1.0 - c.chance_yes) * c.after_no
        np.testing.assert_allclose(average, HERE.posterior, atol=1e-5)
