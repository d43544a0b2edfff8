"""The course of an interview, driven by fakes: which question, one step back, when to stop."""

from dataclasses import replace

import pytest

from baskwell.cli.interview import Interview
from baskwell.science.case.model import Animal, Case
from baskwell.science.causes.ranking import Question
from baskwell.science.errors import KeeperError
from baskwell.science.review import Review


def _interview(review: Review, refuse: bool = False) -> Interview:
    """Answers go into the animal's notes; an answered question leaves the ranking."""

    def rank(case: Case) -> Review:
        left = tuple(q for q in review.ranking.questions if q.key not in case.animal.notes)
        return replace(review, ranking=replace(review.ranking, questions=left))

    def apply(case: Case, question: Question, answer: str) -> Case:
        if refuse:
            raise KeeperError("This answer contradicts what was told before.")
        notes = f"{case.animal.notes}{question.key}={answer};"
        return replace(case, animal=replace(case.animal, notes=notes))

    return Interview(Case(Animal("terrapene_carolina")), rank, apply)


def test_the_best_question_comes_first(sample_review: Review) -> None:
    """The order of the ranking is the order of asking."""
    interview = _interview(sample_review)
    assert interview.question is not None
    assert interview.question.key == "lamp_age"


def test_an_answer_goes_into_the_case_and_the_next_question_comes(sample_review: Review) -> None:
    """Each answer re-ranks at once."""
    interview = _interview(sample_review)
    assert interview.question is not None
    interview.answer(interview.question, "over a year")
    assert interview.case.animal.notes == "lamp_age=over a year;"
    assert interview.question is not None
    assert interview.question.key == "shell_soft"
    assert interview.answered == 1


def test_not_knowing_leaves_the_case_as_it_is_and_goes_on(sample_review: Review) -> None:
    """Unknown stays unknown, and is not asked twice."""
    interview = _interview(sample_review)
    before = interview.case
    assert interview.question is not None
    interview.pass_over(interview.question)
    assert interview.case == before
    assert interview.question is not None
    assert interview.question.key == "shell_soft"
    assert interview.answered == 0


def test_back_undoes_answers_and_passes_one_by_one(sample_review: Review) -> None:
    """Every entry can be undone, down to the first."""
    interview = _interview(sample_review)
    start = interview.case
    assert interview.question is not None
    interview.pass_over(interview.question)
    assert interview.question is not None
    interview.answer(interview.question, "yes")
    assert interview.back()
    assert interview.answered == 0
    assert interview.question is not None
    assert interview.question.key == "shell_soft"
    assert interview.back()
    assert interview.question.key == "lamp_age"
    assert interview.case == start
    assert not interview.back()


def test_it_stops_where_no_answer_would_change_the_ranking(sample_review: Review) -> None:
    """Questions that would move nothing are not asked."""
    idle = tuple(
        replace(q, information_bits=0.0001, chance_top_changes=0.0) for q in sample_review.ranking.questions
    )
    review = replace(sample_review, ranking=replace(sample_review.ranking, questions=idle))
    assert _interview(review).question is None


def test_a_refused_answer_changes_nothing(sample_review: Review) -> None:
    """An answer that the case cannot hold leaves it, and the question, as they were."""
    interview = _interview(sample_review, refuse=True)
    before = interview.case
    assert interview.question is not None
    with pytest.raises(KeeperError):
        interview.answer(interview.question, "over a year")
    assert interview.case == before
    assert interview.question.key == "lamp_age"
    assert not interview.back()
