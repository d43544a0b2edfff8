"""Who says so: ids and keys of the evidence as citations."""

import pytest

from baskwell.evidence import Evidence, load_evidence
from baskwell.paper.sources import LONGEST_LABEL, Citations, Sources, label
from baskwell.science.history.finding import Wanted


@pytest.fixture(scope="module")
def evidence() -> Evidence:
    """The shipped tables."""
    return load_evidence()


def test_a_source_id_becomes_its_citation_with_its_note(evidence: Evidence) -> None:
    """The note in parentheses says what was taken from it."""
    (said,) = Sources(evidence).said("MERCK_MET (names lack of UVB as cause)")
    assert said.source == evidence.sources["MERCK_MET"]
    assert said.words.endswith("(names lack of UVB as cause)")
    assert "MERCK_MET" not in said.words


def test_a_key_of_a_row_leads_to_the_sources_of_the_row(evidence: Evidence) -> None:
    """As `baskwell evidence show` finds it."""
    sources = Sources(evidence)
    assert [s.source_id for s in sources.behind("hot_terrapene_ornata_low")] == ["JUDGEMENT"]
    assert {s.source_id for s in sources.behind("signs.anorexia")} == {"RVC2025"}


def test_what_is_no_id_stays_as_it_was_said(evidence: Evidence) -> None:
    """Plain words are plain words."""
    assert [said.words for said in Sources(evidence).said("the middle of 7 published rules")] == [
        "the middle of 7 published rules"
    ]


def test_without_evidence_nothing_is_looked_up() -> None:
    """A review can be rendered far from the tables."""
    sources = Sources()
    assert [said.words for said in sources.said("MERCK_MET; judgement")] == ["MERCK_MET", "judgement"]
    assert sources.sign("shell_soft") == "shell soft"
    assert sources.behind("signs.anorexia") == ()
    assert sources.grade("B", "diet") == "B"


def test_grades_are_told_by_what_they_mean(evidence: Evidence) -> None:
    """A letter means nothing to a keeper; the least exact of several counts."""
    assert "published" in Sources(evidence).grade("B", "diet")
    assert "common practice" in Sources(evidence).grade("B/C", "space")


def test_every_label_fits_into_a_line(evidence: Evidence) -> None:
    """Long citations are cut at a word, pseudo-sources are one word."""
    labels = {key: label(source) for key, source in evidence.sources.items()}
    assert max(map(len, labels.values())) <= LONGEST_LABEL
    assert labels["COMMON_PRACTICE"] == "common practice"


def test_a_page_lists_each_source_once(evidence: Evidence) -> None:
    """Named twice, listed once, in the order of the citations."""
    citations = Citations(Sources(evidence))
    citations.said("MERCK_MET")
    citations.wanted(Wanted(30.0, None, "MERCK_MET", "judgement", ("hot_terrapene_ornata_low",)))
    used = [source.source_id for source in citations.used()]
    assert sorted(used) == ["JUDGEMENT", "MERCK_MET"]
