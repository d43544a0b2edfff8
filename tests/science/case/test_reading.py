"""What may be written in more than one way, and what it means."""

import datetime as dt
import pathlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baskwell.evidence import load_evidence
from baskwell.science.case import Case, parse_case, read_case, write_case
from baskwell.science.case.model import AMOUNT_ALIASES, AMOUNT_WORDS, Amount, SignSeen
from baskwell.science.case.span import Span
from strategies import TODAY, spans

EVIDENCE = load_evidence()
GOOD = '[animal]\ntaxon = "terrapene_carolina"\n'
HERE = pathlib.Path(__file__).parents[3]
PUBLISHED = sorted((HERE / "tests/data/published_cases/toml").glob("*.toml"))
EXAMPLES = sorted((HERE / "examples/harrow_mill").glob("*.toml"))


def read(text: str) -> Case:
    """Read lines that follow the shortest file."""
    return parse_case(GOOD + text, EVIDENCE, today=TODAY)


@pytest.mark.parametrize("path", PUBLISHED, ids=lambda path: path.stem)
def test_every_published_case_is_read_without_a_doubt(path: pathlib.Path) -> None:
    """Cases of the literature, written by others: no refusal, no warning, and a round trip."""
    reading = read_case(path.read_bytes(), EVIDENCE, today=TODAY)
    assert reading.warnings == ()
    assert parse_case(write_case(reading.case), EVIDENCE, today=TODAY) == reading.case


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_example_is_read_without_a_doubt(path: pathlib.Path) -> None:
    """The animals of Harrow Mill."""
    reading = read_case(path.read_bytes(), EVIDENCE, today=TODAY)
    assert reading.warnings == ()
    assert parse_case(write_case(reading.case), EVIDENCE, today=TODAY) == reading.case


def test_the_examples_show_most_of_the_format() -> None:
    """Together the three animals use labels, lamps, periods, absent signs, measures, tests and days."""
    cases = [parse_case(path.read_bytes(), EVIDENCE, today=TODAY) for path in EXAMPLES]
    assert {case.animal.name for case in cases} >= {"Teasel", "Bramble", "Flint"}
    text = "\n".join(write_case(case) for case in cases)
    for heading in (
        "label.", "history.lights", "history.surroundings", "history.periods", "history.winter_rest",
        "history.events", "history.contact", "history.treatments", "exam.measures", "exam.tests",
        "days.meals", "days.doses",
    ):  # fmt: skip
        assert f"[{heading}" in text
    for key in (
        "absent =",
        "examined =",
        "climate_log =",
        "severity = 0",
        "stated_exposures =",
        "floor_m2 =",
    ):
        assert key in text


@pytest.mark.parametrize(
    ("written", "taxon"),
    [
        ("terrapene_carolina", "terrapene_carolina"),
        ("Terrapene carolina", "terrapene_carolina"),
        ("eastern box turtle", "terrapene_carolina"),
        ("Eastern Box Turtle", "terrapene_carolina"),
        ("royal python", "python_regius"),
        ("testudo", "testudo"),
        ("Testudo", "testudo"),
        ("box turtle", "terrapene"),
    ],
)
def test_a_taxon_has_more_than_one_name(written: str, taxon: str) -> None:
    """Id, scientific name, common names, higher names (names of clinical/taxa.csv)."""
    case = parse_case(f'animal.taxon = "{written}"', EVIDENCE, today=TODAY)
    assert case.animal.taxon == taxon


@given(spans(0.1, 6000))
def test_a_number_or_a_range_is_read_as_written(span: Span) -> None:
    """``[low, high]`` with "unknown" for an open end, and one number for both ends."""
    ends = ['"unknown"' if end is None else repr(end) for end in (span.low, span.high)]
    assert read(f"mass_g = [{ends[0]}, {ends[1]}]").animal.mass_g == span
    if span.low is not None and span.low == span.high:
        assert read(f"mass_g = {ends[0]}").animal.mass_g == span


UNKNOWNS = """
mass_g = "unknown"
name = "unknown"
sex = "Unknown"
group_size = "unknown"
[history]
wild_caught = "unknown"
past_illness = "unknown"
judged_good = "unknown"
stated_exposures = ["unknown"]
supplements = "unknown"
surroundings = { floor_cm = "unknown", relative_humidity_pct = "unknown", substrate = ["unknown"] }
contact = { losses = "unknown" }
diet = [{ food = "apple", amount = "unknown" }, { food = "kale", amount = { grams = "unknown" } }]
[label.x]
ingredients = "unknown"
guaranteed = { crude_fat_min_pct = "unknown" }
[exam]
date = "unknown"
month = "unknown"
"""
WITHOUT_UNKNOWNS = """
[history]
diet = [{ food = "apple" }, { food = "kale" }]
surroundings = {}
contact = {}
[label.x]
"""


def test_unknown_may_stand_for_any_value() -> None:
    """It means that nothing is stated: the field keeps its default."""
    assert read(UNKNOWNS) == read(WITHOUT_UNKNOWNS)


def test_nothing_between_the_quotes_is_not_stated() -> None:
    """An empty text says no more than a missing one."""
    assert read('sex = ""\nname = ""') == read("")


@pytest.mark.parametrize(
    ("words", "word"),
    [
        *AMOUNT_ALIASES.items(),
        *((word, word) for word in AMOUNT_WORDS),
        ("Mostly", "mostly"),
        ("a_lot", "a lot"),
    ],
)
def test_amounts_have_synonyms(words: str, word: str) -> None:
    """The words of the format page and those that are also read as one of them."""
    case = read(f'[[history.diet]]\nfood = "apple"\namount = "{words}"')
    assert case.history.diet[0].amount == Amount(word=word)


def test_the_evidence_knows_the_same_amount_words() -> None:
    """The table of amount words and the reader agree, so that no word is read and then has no share."""
    assert set(AMOUNT_WORDS) <= set(EVIDENCE.amount_words)
    for row in EVIDENCE.amount_words.values():
        for other in row.also_read_as:
            if row.word not in {"treats", "dust", "unknown"}:
                assert AMOUNT_ALIASES[other] == row.word


@pytest.mark.parametrize(
    ("written", "amount"),
    [
        ("{ grams = 12 }", Amount(grams=Span.exactly(12.0))),
        ("{ grams = [10, 14] }", Amount(grams=Span(10.0, 14.0))),
        ("{ share = [0.5, 'unknown'] }", Amount(share=Span(0.5, None))),
    ],
)
def test_amounts_in_numbers(written: str, amount: Amount) -> None:
    """Grams or a share, each a number or a range."""
    assert read(f'[[history.diet]]\nfood = "apple"\namount = {written}').history.diet[0].amount == amount


def test_a_label_may_be_fed_and_an_archetype_too() -> None:
    """A food is a food id, a label of this file, a typical label of the tables, or a group."""
    text = "".join(f'[[history.diet]]\nfood = "{food}"\n' for food in ("kale", "my_stick", "L01", "greens"))
    case = read(text + "[label.my_stick]\nnotes = 'x'")
    assert [item.food for item in case.history.diet] == ["kale", "my_stick", "L01", "greens"]


def test_a_range_of_a_guarantee_becomes_its_two_sides() -> None:
    """A minimum and a maximum; of a promised minimum that is itself a range the weaker promise stays."""
    guaranteed = "{ calcium_pct = 0.1, phosphorus_pct = [0.2, 1.1], crude_fat_min_pct = [3, 4] }"
    assert read(f"[label.x]\nguaranteed = {guaranteed}").labels["x"].guaranteed == {
        "calcium_pct": 0.1,
        "phosphorus_min_pct": 0.2,
        "phosphorus_max_pct": 1.1,
        "crude_fat_min_pct": 3.0,
    }


def test_one_thing_alone_is_a_list_of_one() -> None:
    """One table, one word, one id, one text."""
    case = read(
        '[history]\njudged_good = "uv"\ndenied_exposures = "no_uvb"\n[history.diet]\nfood = "kale"\n'
        '[history.winter_rest]\ndone = true\n[history.surroundings]\nsubstrate = "sand"\n'
        '[exam]\nexamined = "all"'
    )
    assert case.history.judged_good == ("uv",)
    assert case.history.denied_exposures == ("no_uvb",)
    assert case.history.diet[0].food == "kale"
    assert case.history.winter_rest[0].done is True
    assert case.history.surroundings and case.history.surroundings.substrate == ("sand",)
    assert case.exam.examined == ("all",)


def test_a_body_system_is_a_part_or_the_whole_of_the_text_of_the_table() -> None:
    """signs.csv has "oral/keratin": oral, keratin and the whole may be examined."""
    case = read('[exam]\nexamined = ["oral", "oral/keratin", "beak_overgrown"]')
    assert case.exam.examined == ("oral", "oral/keratin", "beak_overgrown")


def test_severity_nought_is_a_sign_looked_for_and_absent() -> None:
    """It is kept as 0, and naming it in absent as well is no conflict."""
    reading = read_case(
        GOOD + '[exam]\nabsent = ["tremor"]\nsigns = [{ sign = "tremor", severity = 0 }]',
        EVIDENCE,
        today=TODAY,
    )
    assert reading.case.exam.signs == (SignSeen("tremor", severity=0),)
    assert reading.warnings == ()


def test_an_agent_has_aliases() -> None:
    """The agents table says what else an agent is called."""
    case = read(
        '[[history.supplements]]\nagent = "cuttlefish bone"\n[[history.supplements]]\nagent = "unknown"'
    )
    assert [one.agent for one in case.history.supplements] == ["cuttlebone", "unknown"]


def test_from_and_to_have_names_that_python_allows() -> None:
    """``from`` is a word of the language, so the model calls it ``from_``."""
    event = read('[[history.events]]\nkind = "move"\nfrom = 2025-01-01\nto = 2025-02-01').history.events[0]
    assert (event.from_, event.to) == (dt.date(2025, 1, 1), dt.date(2025, 2, 1))


def test_today_itself_is_not_the_future() -> None:
    """An examination of this very day is read."""
    assert read(f"[exam]\ndate = {TODAY}").exam.date == TODAY


def test_notes_may_stand_in_every_table() -> None:
    """Also at the top, in days and in the pantry."""
    case = parse_case(
        'notes = "a"\n' + GOOD + '[days]\nnotes = "b"\n[pantry]\nnotes = "c"', EVIDENCE, today=TODAY
    )
    assert (case.notes, case.days.notes, case.pantry.notes) == ("a", "b", "c")


@given(st.sampled_from((" ", "\t", "\r\n", "\n# remark\n", "\n\n")))
def test_layout_changes_nothing(gap: str) -> None:
    """Blank lines, remarks, tabs and Windows line ends between the lines."""
    tidy = '[animal]\ntaxon = "terrapene_carolina"\nmass_g = 395\n'
    loose = tidy.replace("\n", f"{gap}\n")
    assert parse_case(loose, EVIDENCE, today=TODAY) == parse_case(tidy, EVIDENCE, today=TODAY)


def test_the_model_is_read_like_the_full_example_of_the_format_page() -> None:
    """The example file holds every key of the format once; so does the file that is written from it."""
    path = pathlib.Path(__file__).with_name("full_example.toml")
    reading = read_case(path.read_bytes(), EVIDENCE, today=TODAY)
    assert reading.warnings == ()
    assert reading.case.days.doses[0].amount_iu == Span.exactly(500.0)
    assert parse_case(write_case(reading.case), EVIDENCE, today=TODAY) == reading.case
