"""Plain words about a case."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baskwell.evidence import load_evidence
from baskwell.science.case.model import Animal, Case, Exam, SignSeen
from baskwell.science.case.span import Span
from baskwell.science.telling import probability_word, sign_lines, who

EVIDENCE = load_evidence()


@pytest.mark.parametrize(
    ("age", "words"),
    [
        (Span.exactly(9), "9 years"),
        (Span(3, 5), "3-5 years"),
        (Span(20, None), "over 20 years"),
        (None, "adult"),
    ],
)
def test_who_tells_ranges_and_leaves_out_what_is_not_known(age: Span | None, words: str) -> None:
    """An open end is told as over or under; without an age the age class stands in."""
    animal = Animal("terrapene_carolina", name="Hazel", age_years=age, age_class="adult")

    line = who(Case(animal), EVIDENCE)

    assert line.startswith("Hazel, eastern box turtle")
    assert line.endswith(words)


def test_signs_stand_by_severity_with_their_criterion() -> None:
    """The severity wording is that of the evidence; a sign not scored stands last."""
    exam = Exam(signs=(SignSeen("lethargy"), SignSeen("beak_overgrown", severity=1), SignSeen("anorexia", 3)))

    lines = sign_lines(Case(Animal("terrapene_carolina"), exam=exam), EVIDENCE)

    assert [line.sign_id for line in lines] == ["anorexia", "beak_overgrown", "lethargy"]
    assert lines[0].criterion == EVIDENCE.signs["anorexia"].score_3
    assert lines[2].criterion == ""


@given(st.floats(0, 1), st.floats(0, 1))
def test_words_never_fall_as_probability_rises(one: float, other: float) -> None:
    """A higher probability never gets a weaker word."""
    order = ["very unlikely", "unlikely", "as likely as not", "likely", "very likely"]
    low, high = sorted((one, other))

    assert order.index(probability_word(low)) <= order.index(probability_word(high))
