"""Every refusal says what is wrong, where, which value and what to do."""

import pathlib
from collections.abc import Iterator

import pytest

from baskwell.evidence import load_evidence
from baskwell.science.case import CaseFileError, parse_case
from baskwell.science.errors import KeeperError
from strategies import TODAY

EVIDENCE = load_evidence()
GOOD = '[animal]\ntaxon = "terrapene_carolina"'
FIXTURES = pathlib.Path(__file__).with_name("refusals.txt")
STAND_INS = {
    "{animal}": GOOD,
    "{digits}": "9" * 5000,
    "{some digits}": "9" * 500,
    "{brackets}": "[" * 5000,
    "{dots}": ".a" * 5000,
}


def refusals() -> Iterator[tuple[str, tuple[str, ...], str]]:
    """Yield name, words of the message and text of each fixture."""
    for block in FIXTURES.read_text(encoding="utf-8").split("\n=== ")[1:]:
        name, *rows = block.rstrip("\n").split("\n")
        says = tuple(row.removeprefix("says: ") for row in rows if row.startswith("says: "))
        text = "\n".join(row for row in rows if not row.startswith("says: "))
        for stand_in, written in STAND_INS.items():
            text = text.replace(stand_in, written)
        yield name, says, text


@pytest.mark.parametrize(("says", "text"), [pytest.param(*rest, id=name) for name, *rest in refusals()])
def test_a_refusal_says_what_to_do(says: tuple[str, ...], text: str) -> None:
    """The message holds the words that the fixture names, in whole sentences of bearable length."""
    with pytest.raises(CaseFileError) as caught:
        parse_case(text, EVIDENCE, today=TODAY)
    message = str(caught.value)
    for words in says:
        assert words in message
    for problem in caught.value.problems:
        assert problem.sentence.endswith((".", "?", ":"))
        assert len(problem.sentence) < 500
        assert problem.sentence.isprintable()


def test_all_problems_are_told_at_once_in_the_order_of_the_file() -> None:
    """Three slips, one message, three places."""
    text = GOOD + '\nmass_g = -1\nsex = "femal"\n[[exam.signs]]\nsign = "beak_overgrwn"\n'
    with pytest.raises(CaseFileError) as caught:
        parse_case(text, EVIDENCE, today=TODAY)
    assert [(one.line, one.path) for one in caught.value.problems] == [
        (3, "animal.mass_g"),
        (4, "animal.sex"),
        (6, "exam.signs[1].sign"),
    ]
    assert str(caught.value).startswith("3 things are wrong:\nLine 3, animal.mass_g: -1")
    assert [one.value for one in caught.value.problems] == ["-1", '"femal"', '"beak_overgrwn"']


def test_a_refusal_is_an_error_that_the_keeper_can_mend() -> None:
    """The command line shows these without a traceback."""
    with pytest.raises(KeeperError):
        parse_case("", EVIDENCE, today=TODAY)


def test_after_fifty_problems_the_rest_waits() -> None:
    """Wholly another file does not bury the screen, and costs no time."""
    text = GOOD + "".join(f'\n[[exam.signs]]\nsign = "no_such_sign_{number}"' for number in range(5000))
    with pytest.raises(CaseFileError) as caught:
        parse_case(text, EVIDENCE, today=TODAY)
    assert len(caught.value.problems) == 50
    assert caught.value.more
    assert str(caught.value).endswith("There may be more. Mend these first, then try again.")
