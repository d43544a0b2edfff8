"""Which animals a taxon text covers."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baskwell.evidence import load_evidence
from baskwell.evidence.covers import cover_holds, cover_reaches, covers, parse_cover, species_beneath
from baskwell.evidence.errors import UnknownKey

EVIDENCE = load_evidence()
SPECIES = [taxon for taxon in EVIDENCE.taxa.values() if taxon.rank == "species"]
HIGHER = [taxon for taxon in EVIDENCE.taxa.values() if taxon.rank == "higher"]
PARTS = st.sampled_from(
    [
        "all",
        *(f"clade:{word}" for word in ("chelonian", "lizard", "snake")),
        *(f"tag:{word}" for word in ("aquatic", "herbivorous", "insectivorous", "diurnal")),
        *(f"family:{taxon.family}" for taxon in SPECIES),
    ]
)


def test_the_published_counts_are_met() -> None:
    """n_taxa of taxon_groups.csv, counted by hand when the table was made, for every group."""
    counted = {
        group.taxon_string: sum(cover_holds(group.covers, taxon) for taxon in SPECIES)
        for group in EVIDENCE.taxon_groups.values()
    }
    assert counted == {group.taxon_string: group.n_taxa for group in EVIDENCE.taxon_groups.values()}


@pytest.mark.parametrize(
    ("text", "taxon", "holds"),
    [
        # readings of the taxon_groups.csv rows themselves
        ("turtle", "trachemys_scripta", True),
        ("turtle", "testudo_hermanni", False),
        ("all but whole-prey snakes", "python_regius", False),
        ("all but whole-prey snakes", "thamnophis_sirtalis", True),
        ("insectivorous lizard", "iguana_iguana", False),
        ("box turtle, slider", "cuora_amboinensis", True),
        ("testudinidae", "x", None),
    ],
)
def test_texts_cover_whom_they_name(text: str, taxon: str, holds: bool | None) -> None:
    """The grammar with +, - and ; as the README of the table explains it."""
    if holds is None:
        with pytest.raises(UnknownKey, match="testudinidae"):
            covers(EVIDENCE, text, taxon)
    else:
        assert covers(EVIDENCE, text, taxon) is holds


@given(PARTS, PARTS, st.sampled_from(SPECIES))
def test_plus_is_and_minus_is_and_not_semicolon_is_or(one: str, two: str, taxon: object) -> None:
    """The three signs are the three connectives, for every pair of parts and every species."""
    first, second = cover_holds(one, taxon), cover_holds(two, taxon)  # type: ignore[arg-type]
    assert cover_holds(f"{one}+{two}", taxon) is (first and second)  # type: ignore[arg-type]
    assert cover_holds(f"{one}-{two}", taxon) is (first and not second)  # type: ignore[arg-type]
    assert cover_holds(f"{one};{two}", taxon) is (first or second)  # type: ignore[arg-type]


@given(PARTS, st.sampled_from(HIGHER))
def test_a_higher_name_is_covered_if_any_species_beneath_could_be(cover: str, higher: object) -> None:
    """An animal known as a tortoise may be any tortoise."""
    taxon_id = higher.taxon_id  # type: ignore[attr-defined]
    beneath = species_beneath(EVIDENCE, taxon_id)
    assert cover_reaches(EVIDENCE, cover, taxon_id) is any(cover_holds(cover, taxon) for taxon in beneath)


@pytest.mark.parametrize("cover", ["tortoise", "tag:", "+tag:aquatic;", "order:Testudines", ""])
def test_a_cover_outside_the_grammar_is_refused(cover: str) -> None:
    """The message shows what can be written."""
    with pytest.raises(ValueError, match="kind:word"):
        parse_cover(cover)


def test_an_unknown_taxon_is_told_with_the_nearest() -> None:
    """A slip in an id is answered with what was meant."""
    with pytest.raises(UnknownKey) as caught:
        species_beneath(EVIDENCE, "terapene_ornata")
    assert "terrapene_ornata" in caught.value.nearest
