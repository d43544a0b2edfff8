"""Free words: whole words, longest first, denials, and a table without contradictions."""

import pytest

from baskwell.evidence import Evidence
from baskwell.science.history.exposures.words import plain, words_in


def meanings(evidence: Evidence, field: str, text: str) -> set[str]:
    """What a text may mean."""
    return {row.means for row in words_in(evidence.history_words, field, text)}


def test_letters_and_digits_alone_count() -> None:
    """Case, hyphens and underscores are the writer's taste."""
    assert plain("Cod-Liver_OIL (5 ml)") == "cod liver oil 5 ml"


@pytest.mark.parametrize(
    ("field", "text", "expected"),
    [
        ("agent", "Gentamicin 5 mg/kg", {"aminoglycoside"}),
        ("agent", "vitamin_a", {"vitamin_a", "not_a_drug"}),
        ("agent", "vitamin c", {"not_a_drug"}),  # not vitamin A, whose word does not stand in it
        ("detail", "bitten by the neighbour's dog", {"dog"}),
        ("detail", "no dog in the house", set()),
        ("detail", "a hotdog stand", set()),  # whole words only
        ("other_pets", "none", {"nothing"}),
    ],
)
def test_words_are_read_as_they_are_meant(
    evidence: Evidence, field: str, text: str, expected: set[str]
) -> None:
    """Examples of the table's fields."""
    assert meanings(evidence, field, text) == expected


def test_a_longer_word_hides_the_shorter_inside_it(evidence: Evidence) -> None:
    """Eye drops with an antibiotic are drops: too little to reach the kidneys."""
    assert meanings(evidence, "agent", "antibiotic eye drops") == {"not_a_drug"}
    assert meanings(evidence, "agent", "antibiotic") == {"aminoglycoside"}


def test_every_supplement_agent_of_the_evidence_that_holds_a_vitamin_is_known_to_hold_it(
    evidence: Evidence,
) -> None:
    """The table of agents and the table of words agree on vitamin A, vitamin D3 and calcium."""
    pairs = {"vitamin_A": "vitamin_a", "vitamin_D3": "vitamin_d3", "calcium": "calcium_source"}
    for agent in evidence.agents.values():
        for supplied, means in pairs.items():
            if supplied in agent.supplies:
                assert means in meanings(evidence, "agent", agent.agent_id), agent.agent_id


def test_the_words_of_the_table_are_plain_and_ordered(evidence: Evidence) -> None:
    """A word that is not plain could never be met."""
    for row in evidence.history_words:
        assert plain(row.word) == row.word
        assert 0.0 <= row.low <= row.mode <= row.high <= 1.0
