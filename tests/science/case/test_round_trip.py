"""A case survives being written and read again, and the text itself does not change any more."""

import dataclasses

import pytest
from hypothesis import given, settings

from baskwell.evidence import Evidence, load_evidence
from baskwell.science.case import parse_case, read_case, write_case
from baskwell.science.case.model import Animal, Case, Days, Exam, History, Label, Surroundings, WinterRest
from baskwell.science.case.span import Span
from strategies import TODAY, cases

EVIDENCE: Evidence = load_evidence()


@given(cases(EVIDENCE))
def test_a_written_case_is_read_back_equal(case: Case) -> None:
    """``parse(write(case)) == case`` for any valid case."""
    assert parse_case(write_case(case), EVIDENCE, today=TODAY) == case


@given(cases(EVIDENCE))
def test_writing_is_idempotent(case: Case) -> None:
    """Writing what was read from written text gives that text again."""
    text = write_case(case)
    assert write_case(parse_case(text, EVIDENCE, today=TODAY)) == text


@pytest.mark.slow
@given(cases(EVIDENCE))
@settings(max_examples=500)
def test_round_trip_of_many_cases(case: Case) -> None:
    """The same as above, for many more cases, as bytes and with Windows line ends."""
    raw = write_case(case).replace("\n", "\r\n").encode()
    assert read_case(raw, EVIDENCE, today=TODAY).case == case


def test_only_what_is_stated_is_written() -> None:
    """The shortest case has a format, a heading and a taxon."""
    assert write_case(Case(Animal(taxon="python_regius"))) == (
        'format = 1\n\n[animal]\ntaxon = "python_regius"\n'
    )


def test_false_and_nought_are_stated() -> None:
    """False, 0 and an empty table of history are facts, unlike None."""
    history = History(
        wild_caught=False,
        meals_per_week=Span.exactly(0.0),
        surroundings=Surroundings(),
        winter_rest=(WinterRest(),),
    )
    text = write_case(Case(Animal(taxon="python_regius", number_dead=0), history=history))
    for words in ("number_dead = 0", "wild_caught = false", "meals_per_week = 0", "[history.surroundings]"):
        assert words in text
    assert parse_case(text, EVIDENCE, today=TODAY).history == history


def test_text_with_everything_that_toml_escapes_survives() -> None:
    """Quotes, backslashes, brackets, line ends, tabs and the delete character."""
    animal = Animal(taxon="python_regius", name='a "b" \\c\\ [d] # e\n\tf = g \u2028 é', notes="'''")
    assert parse_case(write_case(Case(animal)), EVIDENCE, today=TODAY).animal == animal


def test_sections_without_content_are_left_out() -> None:
    """Default sections leave no heading behind."""
    case = Case(Animal(taxon="python_regius"), History(), {}, Exam(), Days())
    assert "[history]" not in write_case(case)
    assert "[exam]" not in write_case(case)


def test_a_label_without_any_line_keeps_its_name() -> None:
    """A label of which nothing is known is still one: its ingredients are unknown."""
    case = Case(Animal(taxon="python_regius"), labels={"shop_mix": Label()})
    assert "[label.shop_mix]" in write_case(case)
    assert parse_case(write_case(case), EVIDENCE, today=TODAY).labels == {"shop_mix": Label()}


def test_every_field_of_every_table_is_declared() -> None:
    """A field without a declaration would be lost in writing; only ``format`` is written by itself."""
    from baskwell.science.case import model
    from baskwell.science.case.fields import declared_fields

    for name in model.__all__:
        kind = getattr(model, name)
        if dataclasses.is_dataclass(kind) and name != "Amount":
            assert isinstance(kind, type)
            declared = {one.name for one in declared_fields(kind)}
            assert {one.name for one in dataclasses.fields(kind)} - declared <= {"format"}
