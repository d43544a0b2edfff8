"""The review as text: order, words, width."""

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from baskwell.evidence import load_evidence
from baskwell.paper.plain import Style
from baskwell.paper.review_text import review_as_text
from baskwell.science.draws import Summary
from baskwell.science.review import Review


def test_the_parts_come_in_the_order_of_the_job(sample_review: Review) -> None:
    """Who, what matters, vet now, found, lived in, why, put right, ask, tests, gaps, bounds."""
    text = review_as_text(sample_review)
    parts = [
        "Teasel,", "Diet without usable", "VET NOW:", "What was found", "What it lived in",
        "What is in the feed", "\nWhy\n", "May be true together", "What to put right", "What to ask",
        "once the test results", "What could not be used", "Bounds", "Seed 1",
    ]  # fmt: skip
    places = [text.index(part) for part in parts]
    assert places == sorted(places)


def test_the_first_cause_is_told_with_dots_words_and_signs(sample_review: Review) -> None:
    """65 to 80 % is 13 full dots and 3 hatched ones, and words that say the same."""
    text = review_as_text(sample_review)
    assert "1. Too little vitamin A\n   ●●●●●●●●●●●●●◍◍◍○○○○  about 13 to 16 in 20\n" in text
    assert "explains about 2.1 (1.7 to 2.6) of the 3 signs counted" in text


def test_a_misfit_shows_what_was_wanted_what_was_got_and_how_sure(sample_review: Review) -> None:
    """The three things a keeper needs to judge a number."""
    text = review_as_text(sample_review)
    assert "Vitamin A from animal food: too low, 19 in 20" in text
    assert "wanted 5,000 to 10,000, got 900 (300 to 2,800) IU/kg dry matter" in text


def test_what_is_not_known_asks_for_it(sample_review: Review) -> None:
    """Unknown is a value, and comes with its question."""
    text = review_as_text(sample_review)
    assert "Not known (1)" in text
    assert "? UV index at the back. How old is the UV lamp?" in text


def test_the_second_pass_names_only_what_the_tests_add(sample_review: Review) -> None:
    """Reasons known before the tests are not told twice."""
    text = review_as_text(sample_review)
    assert text.index("once the test results") < text.index("faecal flotation negative")
    after = text[text.index("once the test results") :]
    assert "the diet held almost no retinol" not in after


@pytest.mark.parametrize("full", [False, True])
def test_no_line_is_over_80_cells(sample_review: Review, full: bool) -> None:
    """Readable in the narrowest common terminal."""
    text = review_as_text(sample_review, full=full)
    assert max(len(line) for line in text.splitlines()) <= 80


def test_in_full_every_reason_and_source_is_told(sample_review: Review) -> None:
    """What the short text leaves out is one option away."""
    short, full = review_as_text(sample_review), review_as_text(sample_review, full=True)
    assert full.count("Who says so: invented handbook, table 4") > 10
    assert "Who says so" not in short
    assert len(full) > len(short)


def test_signs_have_plain_names_where_the_evidence_is_given(sample_review: Review) -> None:
    """Without it their ids are read as words."""
    assert "not there: nasal discharge and shell soft" in review_as_text(sample_review)
    assert "runny nose" in review_as_text(sample_review, evidence=load_evidence())


def test_plain_ascii_holds_the_same_pictures(sample_review: Review) -> None:
    """A terminal without Unicode loses no figure."""
    text = review_as_text(sample_review, Style(ascii_only=True))
    assert text.isascii()
    assert "#############///....  about 13 to 16 in 20" in text


def test_a_bare_case_is_told_without_empty_boxes(bare_review: Review) -> None:
    """Nothing found, nothing told, nothing to rank: each is said in a sentence."""
    text = review_as_text(bare_review)
    assert "No sign was written down." in text
    assert "nothing was told, so nothing is known" in text
    assert "No cause stands out" in text
    assert "What could not be used" not in text


def test_colour_marks_what_words_already_say(sample_review: Review) -> None:
    """Taking the colour away takes no word away."""
    import re

    coloured = review_as_text(sample_review, Style(colour=True))
    assert "\x1b[1;31mVET NOW:" in coloured
    assert re.sub(r"\x1b\[[0-9;]*m", "", coloured) == review_as_text(sample_review)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=30)
@given(name=st.text(max_size=200), width=st.integers(40, 80))
def test_any_name_keeps_the_page_in_shape(sample_review: Review, name: str, width: int) -> None:
    """A hostile name is text: no control characters, no line out of bounds."""
    hostile = replace(sample_review, who=name, headline=name, gaps=(name,))
    text = review_as_text(hostile, Style(width=width))
    assert "\x1b" not in text
    assert max(len(line) for line in text.splitlines()) <= width


@pytest.mark.parametrize("median", [0.0, 0.5, 1.0])
def test_extreme_probabilities_still_draw_twenty_dots(sample_review: Review, median: float) -> None:
    """From never to always."""
    cause = replace(sample_review.ranking.causes[0], posterior=Summary(median, median, median))
    ranking = replace(sample_review.ranking, causes=(cause,))
    text = review_as_text(replace(sample_review, ranking=ranking))
    assert any(sum(line.count(mark) for mark in "●◍○") == 20 for line in text.splitlines())


def test_signs_that_follow_from_the_rest_are_told_apart(sample_review: Review) -> None:
    """The count of signs matches what is listed."""
    ranking = replace(sample_review.ranking, signs_present=(*sample_review.ranking.signs_present, "lethargy"))
    text = review_as_text(replace(sample_review, ranking=ranking), evidence=load_evidence())
    assert "Counted as well, as it follows from the rest: listless." in text
    assert "of the 4 signs counted" in text
