"""The order of fallback for nutrients (nutrition README)."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baskwell.evidence import load_evidence
from baskwell.evidence.errors import UnknownKey
from baskwell.evidence.nutrients import LEVELS, nutrient_candidates, wanted_nutrient

EVIDENCE = load_evidence()
TAXA = st.sampled_from(sorted(EVIDENCE.taxa))
NUTRIENTS = st.sampled_from(sorted(EVIDENCE.nutrients))
STAGES = st.sampled_from(["hatchling", "juvenile", "subadult", "adult", "old", "all"])


@given(TAXA, NUTRIENTS, STAGES)
def test_candidates_come_in_the_order_of_fallback(taxon_id: str, nutrient: str, stage: str) -> None:
    """Measured on the species, published for it, borrowed, group, analogue."""
    levels = [LEVELS.index(found.level) for found in nutrient_candidates(EVIDENCE, taxon_id, nutrient, stage)]
    assert levels == sorted(levels)


@given(TAXA, NUTRIENTS, STAGES)
def test_rows_are_comparable_and_preferred(taxon_id: str, nutrient: str, stage: str) -> None:
    """Only rows in the unit and basis of the nutrient count, and none that the table itself sets aside."""
    standard = EVIDENCE.nutrients[nutrient]
    for found in nutrient_candidates(EVIDENCE, taxon_id, nutrient, stage):
        assert (found.row.unit, found.row.basis) == (standard.unit, standard.basis)
        assert found.row.prefer


@pytest.mark.parametrize(
    ("taxon_id", "nutrient", "stage", "level", "low", "high"),
    [
        ("trachemys_scripta", "crude_protein", "juvenile", "species_measured", 25.0, 40.0),  # OSTI_SLIDER
        ("terrapene_ornata", "vitamin_A", "all", "species", 8600.0, 15000.0),  # README conflict 2
        ("terrapene_ornata", "crude_protein", "adult", "species", 25.0, 40.0),  # README conflict 4
        ("terrapene_carolina", "crude_protein", "juvenile", "group", 25.0, 40.0),  # README conflict 4
        ("terrapene_carolina", "crude_protein", "adult", "group", 20.0, 25.0),  # MSD table, omnivores
        ("testudo_hermanni", "calcium", "adult", "group", 1.0, 2.0),  # README conflict 3
        ("testudo_marginata", "crude_fibre", "adult", "group", 20.0, 35.0),  # MSD table, herbivores
        ("boa_constrictor", "crude_protein", "adult", "group", 30.0, 50.0),  # MSD table, carnivores
    ],
)
def test_known_choices(taxon_id: str, nutrient: str, stage: str, level: str, low: float, high: float) -> None:
    """The rows that the README prefers are the ones found."""
    found = wanted_nutrient(EVIDENCE, taxon_id, nutrient, stage)
    assert found is not None
    assert (found.level, found.row.target_low, found.row.target_high) == (level, low, high)


@given(NUTRIENTS)
def test_a_name_for_plant_and_flesh_eaters_alike_gets_no_number(nutrient: str) -> None:
    """Who is only known as a reptile has no diet of its own: nothing is assumed (unknown is never fine)."""
    found = wanted_nutrient(EVIDENCE, "reptilia", nutrient)
    assert found is None or found.row.taxon_or_group == "group:all"


def test_what_nobody_published_is_none() -> None:
    """Nutrition README: fat in % of dry matter has no value for omnivores."""
    assert wanted_nutrient(EVIDENCE, "terrapene_ornata", "fat") is None


def test_an_unknown_nutrient_is_told_with_the_nearest() -> None:
    """A slip is answered."""
    with pytest.raises(UnknownKey, match="calcium"):
        wanted_nutrient(EVIDENCE, "terrapene_ornata", "calcuim")
