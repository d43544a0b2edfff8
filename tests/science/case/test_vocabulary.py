"""Which words stand for which id, and which id lies nearest to a slip."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baskwell.evidence import load_evidence
from baskwell.science.case.vocabulary import Vocabulary, nearest

EVIDENCE = load_evidence()
WORDS = Vocabulary(EVIDENCE, ["shop_mix"])
TABLES = ("@taxa", "@foods", "@labels", "@agents", "@lamps", "@signs", "@body_systems", "@exposures")


@pytest.mark.parametrize("table", TABLES)
def test_every_id_stands_for_itself(table: str) -> None:
    """Also in capitals and with spaces for underscores."""
    assert WORDS.ids(table)
    for id_ in WORDS.ids(table):
        assert WORDS.resolve(id_, [table]) == id_
        assert WORDS.resolve(id_.upper().replace("_", " "), [table]) == id_


@pytest.mark.parametrize("table", ["@taxa", "@foods", "@signs", "@lamps"])
def test_one_slip_is_seen_through(table: str) -> None:
    """Of all ids of six letters or more with two neighbours swapped somewhere, 98 in 100 are suggested."""
    slips = [(_swapped(id_, 1 + len(id_) // 3), id_) for id_ in WORDS.ids(table) if len(id_) >= 6]
    unknown = [(slip, id_) for slip, id_ in slips if WORDS.resolve(slip, [table]) is None]
    found = [id_ in WORDS.suggest(slip, [table]) for slip, id_ in unknown]
    assert sum(found) >= 0.98 * len(found)


def _swapped(id_: str, place: int) -> str:
    return id_[:place] + id_[place + 1] + id_[place] + id_[place + 2 :]


@pytest.mark.parametrize(
    ("word", "table", "id_"),
    [
        ("swollen eyelids", "@signs", "palpebral_oedema"),
        ("overgrown beak", "@signs", "beak_overgrown"),
        ("nightcrawler", "@foods", "earthworm_nightcrawler"),
        ("crickets", "@foods", "cricket_adult"),
        ("cuttle bone", "@agents", "cuttlebone"),
        ("bearded dragon", "@taxa", "pogona_vitticeps"),
        ("ball pyton", "@taxa", "python_regius"),
    ],
)
def test_lay_names_lead_to_ids(word: str, table: str, id_: str) -> None:
    """What a keeper would say finds the id, by itself or as a suggestion."""
    assert id_ in (WORDS.resolve(word, [table]), *WORDS.suggest(word, [table]))


def test_a_name_of_two_taxa_stands_for_neither() -> None:
    """Every other spelling leads to one id only, and none hides an id."""
    for table in ("@taxa", "@agents"):
        for id_ in WORDS.ids(table):
            assert WORDS.resolve(id_, [table]) == id_


def test_nothing_is_suggested_for_nothing() -> None:
    """An empty word and a word like no other have no neighbour."""
    assert nearest("", ["a"]) == []
    assert WORDS.suggest("qqqqqqqqqq", ["@foods"]) == []


@given(st.text(max_size=200))
def test_any_word_may_be_asked_for(word: str) -> None:
    """However odd, there is an answer, and at most three suggestions."""
    WORDS.resolve(word, TABLES)
    assert len(WORDS.suggest(word, ["@foods", "@labels"])) <= 3
