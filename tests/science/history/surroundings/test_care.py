"""Care told in words: substrate, water, hides, air, cleanliness, rough ground, shelter outdoors."""

from collections.abc import Callable
from typing import Any

import pytest

from baskwell.evidence import load_evidence
from baskwell.evidence.covers import parse_cover
from baskwell.science.history.finding import Finding
from baskwell.science.history.surroundings import SurroundingsHistory
from baskwell.science.history.surroundings.care import find_substrate

Recall = Callable[..., SurroundingsHistory]
Pick = Callable[[SurroundingsHistory, str], Finding]
TABLES = load_evidence().surroundings


@pytest.mark.parametrize(
    ("taxon", "place", "finding_id", "verdict"),
    [
        # each is the narrowest row of care_rules.csv (common practice but where named)
        ("terrapene_ornata", {"water": "dish"}, "water", "fits"),
        ("terrapene_ornata", {"water": "none"}, "water", "does not fit"),
        ("trachemys_scripta", {"water": "dish"}, "water", "does not fit"),
        ("trachemys_scripta", {"water": "pool"}, "water", "fits"),
        ("chamaeleo_calyptratus", {"water": "dish"}, "water", "doubtful"),
        ("testudo_graeca", {"water": "pond"}, "water", "doubtful"),
        ("python_regius", {"hides": 0}, "hides", "does not fit"),
        ("eublepharis_macularius", {"hides": 1}, "hides", "doubtful"),  # LEOGECK17
        ("terrapene_ornata", {"hides": 1}, "hides", "fits"),
        ("python_regius", {"hides": 4}, "hides", "fits"),
        ("eublepharis_macularius", {"moist_hide": False}, "moist_hide", "does not fit"),  # VETLIZ
        ("pantherophis_guttatus", {"moist_hide": False}, "moist_hide", "doubtful"),
        ("python_regius", {"moist_hide": True}, "moist_hide", "fits"),
        ("python_regius", {"ventilation": "closed"}, "ventilation", "doubtful"),
        ("python_regius", {"ventilation": "vented"}, "ventilation", "fits"),
        ("python_regius", {"cleanliness": "dirty"}, "cleanliness", "does not fit"),
        ("python_regius", {"cleanliness": "clean"}, "cleanliness", "fits"),
        ("testudo_graeca", {"abrasive_surface": False}, "abrasive_surface", "doubtful"),
        ("testudo_graeca", {"abrasive_surface": True}, "abrasive_surface", "fits"),
        ("trachemys_scripta", {"abrasive_surface": True}, "abrasive_surface", "doubtful"),
        (
            "python_regius",
            {"outdoor": True, "outdoor_shelter": "unheated"},
            "outdoor_shelter",
            "does not fit",
        ),
        ("testudo_hermanni", {"outdoor": True, "outdoor_shelter": "unheated"}, "outdoor_shelter", "doubtful"),
        ("testudo_hermanni", {"outdoor": "part", "outdoor_shelter": "heated"}, "outdoor_shelter", "fits"),
        ("pogona_vitticeps", {"substrate": ("sand",)}, "substrate", "doubtful"),
        ("pogona_vitticeps", {"substrate": ("ground walnut shell",)}, "substrate", "doubtful"),
        ("pogona_vitticeps", {"substrate": ("sand and soil mix",)}, "substrate", "fits"),
        ("python_regius", {"substrate": ("cedar shavings",)}, "substrate", "does not fit"),
        ("python_regius", {"substrate": ("paper_towel",)}, "substrate", "doubtful"),
        ("python_regius", {"substrate": ("coir",)}, "substrate", "fits"),
        ("terrapene_ornata", {"substrate": ("soil", "leaf_litter")}, "substrate", "doubtful"),
        ("terrapene_ornata", {"substrate": ("soil",)}, "substrate", "fits"),
    ],
)
def test_the_narrowest_rule_speaks(
    recalled: Recall, pick: Pick, taxon: str, place: dict[str, Any], finding_id: str, verdict: str
) -> None:
    """The verdict of the rule with the narrowest cover that holds for the animal."""
    finding = pick(recalled(taxon, n_draws=50, **place), finding_id)
    assert finding.verdict == verdict
    assert finding.got is None
    assert finding.chances is None


@pytest.mark.parametrize("taxon", ["terrapene_ornata", "trachemys_scripta", "python_regius", "reptilia"])
def test_what_is_not_told_is_asked_and_never_fits(recalled: Recall, taxon: str) -> None:
    """An animal of which nothing is told has no finding that fits."""
    past = recalled(taxon, n_draws=50)
    assert {finding.verdict for finding in past.findings} == {"not known"}
    assert set(past.questions) == {finding.ask for finding in past.findings if finding.ask}
    assert len(past.questions) >= 5


def test_only_what_matters_is_asked(recalled: Recall) -> None:
    """Nobody asks for rough ground under a snake, or a shelter outdoors where it lives in a room."""
    asked = {finding.finding_id for finding in recalled("python_regius", n_draws=50, outdoor=False).findings}
    assert "abrasive_surface" not in asked
    assert "outdoor_shelter" not in asked
    assert "moist_hide" in asked


def test_a_substrate_in_no_table_is_a_gap_not_a_fit(recalled: Recall, pick: Pick) -> None:
    """Nothing is said of it."""
    past = recalled("python_regius", n_draws=50, substrate=("moon dust",))
    assert pick(past, "substrate").verdict == "not known"
    assert any('"moon dust"' in gap for gap in past.gaps)


def test_the_harshest_of_several_materials_counts(recalled: Recall, pick: Pick) -> None:
    """Coir, then cedar: the cedar decides, and both are named in order."""
    past = recalled("python_regius", n_draws=50, substrate=("coir", "cedar"))
    assert pick(past, "substrate").verdict == "does not fit"
    assert "coconut fibre, then cedar" in pick(past, "substrate").sentence
    assert [row.substrate_id for row in past.place.substrates] == ["coir", "aromatic_shavings"]


@pytest.mark.parametrize(
    ("said", "substrate_id"),
    [
        ("cypress_mulch", "cypress_mulch"),
        ("Play sand", "sand"),
        ("calcium sand", "calcium_sand"),
        ("sand and soil", "sand_soil"),
        ("a thick layer of aspen bedding", "wood_shavings"),
        ("coconut husk chips", "coir_chips"),
        ("ground_walnut_shell", "nut_shell"),
        ("newspaper", "paper"),
    ],
)
def test_words_for_materials(said: str, substrate_id: str) -> None:
    """Ids, names, other words, and words within a phrase; the longest wins."""
    row = find_substrate(TABLES.substrates, said)
    assert row is not None
    assert row.substrate_id == substrate_id


def test_every_word_for_a_material_means_one_material() -> None:
    """No word stands in two rows of substrates.csv."""
    words = [word for row in TABLES.substrates for word in dict.fromkeys((row.name, *row.words))]
    assert sorted(words) == sorted(set(words))


def test_the_rules_on_care_are_sound() -> None:
    """Covers parse, verdicts are words of the tool, answers on substrates can be given."""
    properties = {"fine_loose", "coarse_swallowable", "dry", "undiggable"}
    for rule in TABLES.care_rules:
        assert parse_cover(rule.covers)
        assert rule.verdict in ("fits", "doubtful", "does not fit")
        if rule.finding_id == "substrate":
            assert rule.answer in properties | {row.substrate_id for row in TABLES.substrates}
