"""Statements that can hardly be true together are told, and only those that cannot be are refused."""

import pytest
from hypothesis import given

from baskwell.evidence import load_evidence
from baskwell.science.case import Case, read_case, write_case
from baskwell.science.case.conflicts import find_conflicts
from strategies import TODAY, cases

EVIDENCE = load_evidence()
UNHEATED = '[history.surroundings]\nheated = false\n[[history.lights]]\nkind = "heat_mat"\n'


def warnings(text: str, taxon: str = "terrapene_carolina") -> list[tuple[str, str]]:
    """Return path and sentence of each warning about some lines."""
    whole = f'[animal]\ntaxon = "{taxon}"\n{text}'
    return [(one.path, one.sentence) for one in read_case(whole, EVIDENCE, today=TODAY).warnings]


@pytest.mark.parametrize(
    ("text", "path", "words"),
    [
        ("mass_g = 0.395", "animal.mass_g", "If kg were meant: 395"),
        ("straight_carapace_length_mm = 12.1", "animal.straight_carapace_length_mm", "If cm were meant: 121"),
        ('sex = "male"\nreproductive = "gravid"', "animal.reproductive", "does not go with a male"),
        ("age_years = 3\n[history]\nyears = 6", "history.years", "longer than it has lived"),
        ('age_class = "hatchling"\nage_years = 5', "animal.age_class", "more than two years"),
        ('[history]\nwild_caught = false\nsource = "wild"', "history.wild_caught", "came from the wild"),
        (
            "[history.surroundings]\nfloor_cm = [90, 45]\nfloor_m2 = 2",
            "history.surroundings.floor_m2",
            "floor_cm makes about 0.405 m2",
        ),
        (
            "[history.surroundings]\nfloor_cm = [90, 'unknown']",
            "history.surroundings.floor_cm",
            "one side alone gives no area",
        ),
        (
            "[history.surroundings]\nhides = [1, 2]",
            "history.surroundings.hides",
            "[1, 2] is read as 1",
        ),
        (
            "[history.surroundings]\nwarm_side_c = 24\ncool_side_c = 28",
            "history.surroundings.cool_side_c",
            "warmer than the warm side",
        ),
        (
            "[[history.periods]]\nwarm_side_c = 34\nbasking_surface_c = 28",
            "history.periods[1].basking_surface_c",
            "cooler than the warm side",
        ),
        (
            "[history.surroundings]\nrelative_humidity_pct = 0.6",
            "history.surroundings.relative_humidity_pct",
            "write 60",
        ),
        (
            f"{UNHEATED}hours_per_day = 10",
            "history.lights[1].kind",
            "heated = false",
        ),
        (
            '[[history.lights]]\nkind = "none"\n[[history.lights]]\nkind = "sun"',
            "history.lights",
            'a lamp "none" beside other lamps',
        ),
        (
            "[history.winter_rest]\nmass_before_g = 300\nmass_after_g = 320",
            "history.winter_rest[1].mass_after_g",
            "heavier than it went in",
        ),
        (
            "[history.winter_rest]\ndone = false\nweeks = 8",
            "history.winter_rest[1].done",
            "not done has weeks",
        ),
        (
            '[[history.events]]\nkind = "fall"\nweeks_before = 3\nmonths_before = 2',
            "history.events[1]",
            "in more than one way",
        ),
        (
            '[[history.treatments]]\nagent = "x"\ndate = 2026-03-10\n[exam]\ndate = 2026-03-01',
            "history.treatments[1].date",
            "lies after the examination",
        ),
        (
            '[[history.treatments]]\nagent = "none"\n[[history.treatments]]\nagent = "x"',
            "history.treatments",
            'agent "none" stands beside',
        ),
        ("[label.mix]", "label.mix", "so it is not used"),
        ('[label.kale]\n[history.diet]\nfood = "kale"', "label.kale", "also a food of the tables"),
        (
            '[exam]\nabsent = ["tremor"]\nsigns = [{ sign = "tremor" }]',
            "exam.signs[1]",
            "found here and named in exam.absent",
        ),
        ('[exam]\nsigns = [{ sign = "tremor" }, { sign = "tremor" }]', "exam.signs[2]", "stands twice"),
        ("[exam]\ndate = 2026-03-01\nmonth = 2", "exam.month", "lies in another month"),
        ("[[days.meals]]\noffered_g = 5\nleft_g = 6", "days.meals[1].left_g", "more was left"),
    ],
)
def test_a_doubtful_statement_is_told_and_read(text: str, path: str, words: str) -> None:
    """One warning at the place, with its line; the case is read all the same."""
    found = warnings(text)
    assert [one for one, _ in found] == [path]
    assert words in found[0][1]
    assert found[0][1].startswith("Line ")


def test_a_shell_on_a_lizard_is_doubted() -> None:
    """A length that the kind cannot have: the taxon or the key is wrong."""
    found = warnings("straight_carapace_length_mm = 120", "pogona_vitticeps")
    assert "a lizard has no shell" in found[0][1]


@pytest.mark.parametrize(
    "text",
    [
        "[history.surroundings]\nfloor_cm = [90, 45]\nfloor_m2 = 0.4",
        "[history.surroundings]\nfloor_cm = [[80, 100], 45]\nfloor_m2 = 0.44",
        "[history.surroundings]\nwarm_side_c = [24, 30]\ncool_side_c = 26",
        f"{UNHEATED}hours_per_day = 0",
        '[exam]\nsigns = [{ sign = "burn", side = "left" }, { sign = "burn", side = "right" }]',
        'age_years = [2, 6]\n[history]\nyears = [3, "unknown"]',
        'age_class = "hatchling"\nmass_g = 8',
        '[[history.events]]\nkind = "move"\nfrom = 2025-01-01\nto = 2025-02-01',
    ],
)
def test_what_can_be_true_is_not_doubted(text: str) -> None:
    """Ranges that overlap, a lamp that is never on, left and right, a hatchling of 8 g."""
    assert warnings(text) == []


@given(cases(EVIDENCE))
def test_generated_cases_hold_no_contradiction(case: Case) -> None:
    """The strategies and the checks agree on what is valid; doubts have a path and a full sentence."""
    for path, sentence, certain in find_conflicts(case, EVIDENCE):
        assert not certain
        assert path and sentence.endswith((".", "?"))


@given(cases(EVIDENCE))
def test_conflicts_do_not_depend_on_the_text(case: Case) -> None:
    """A case from a form and the same case from a file are doubted alike."""
    reading = read_case(write_case(case), EVIDENCE, today=TODAY)
    assert len(reading.warnings) == min(50, len(list(find_conflicts(case, EVIDENCE))))
