"""What follows from who it is and where it came from."""

from typing import Any

import pytest

from baskwell.science.case.model import Contact, Light
from baskwell.science.case.span import Span

# Clades, families and years to adult length: clinical/taxa.csv.


@pytest.mark.parametrize(
    ("taxon", "lizard", "not_snake", "python"),
    [
        ("pogona_vitticeps", 1.0, 1.0, 0.0),
        ("trachemys_scripta", 0.0, 1.0, 0.0),
        ("python_regius", 0.0, 0.0, 1.0),
        ("morelia_viridis", 0.0, 0.0, 1.0),  # family Pythonidae
        ("boa_constrictor", 0.0, 0.0, 0.0),
    ],
)
def test_the_kind_settles_clade_and_family(
    believe: Any, taxon: str, lizard: float, not_snake: float, python: float
) -> None:
    """Read off the table of taxa."""
    beliefs = believe(taxon)
    assert beliefs["lizard_vs_chelonian"].mean == lizard
    assert beliefs["chelonian_or_lizard"].mean == not_snake
    assert beliefs["python"].mean == python


def test_a_higher_name_leaves_open_what_it_does_not_hold(believe: Any) -> None:
    """A snake of unknown kind may be a python; a reptile of unknown kind may be anything."""
    assert believe("serpentes")["python"].state == "unknown"
    assert believe("serpentes")["chelonian_or_lizard"].mean == 0.0
    assert believe("reptilia")["lizard_vs_chelonian"].state == "unknown"


def test_a_horsfields_tortoise_counts_as_host_and_as_company(believe: Any) -> None:
    """Itself, its company, other company, and a Mediterranean tortoise of unknown kind."""
    assert believe("testudo_horsfieldii")["horsfield"].mean == 1.0
    assert believe(contact=Contact(species=("testudo_horsfieldii",)))["horsfield"].mean == 1.0
    assert believe(contact=Contact(species=("testudo_graeca",)))["horsfield"].mean == 0.0
    assert believe("testudo")["horsfield"].state == "unknown"


@pytest.mark.parametrize(
    ("history", "low", "high"),
    [
        ({"wild_caught": True}, 1.0, 1.0),
        ({"wild_caught": False, "source": "wild"}, 0.0, 0.0),  # the plain statement counts first
        ({"source": "wild"}, 1.0, 1.0),
        ({"source": "breeder"}, 0.0, 0.1),
        ({"source": "found"}, 0.1, 0.7),
    ],
)
def test_origin_is_read_from_the_statement_then_from_the_source(
    believe: Any, history: dict[str, Any], low: float, high: float
) -> None:
    """Bounds of the judgement rows."""
    assert low <= believe(**history)["wild_caught"].mean <= high


def test_any_fact_of_keeping_shows_that_people_kept_it(believe: Any) -> None:
    """A lamp; an owner; and nothing."""
    assert believe(lights=(Light("basking_lamp"),))["captive_keeping"].mean == 1.0
    assert believe(source="owner_surrender")["captive_keeping"].mean == 1.0
    assert believe(source="wild")["captive_keeping"].mean < 1.0
    assert believe()["captive_keeping"].state == "unknown"


@pytest.mark.parametrize(
    ("animal", "expected"),
    [
        ({"sex": "female", "age_class": "adult"}, 1.0),
        ({"sex": "female", "age_class": "juvenile"}, 0.0),
        ({"sex": "male"}, 0.0),
        ({"reproductive": "gravid"}, 1.0),
        ({"sex": "female", "age_years": Span.exactly(5.0)}, 1.0),  # grown at 1 to 1.5 years
        ({"sex": "female", "age_years": Span.exactly(0.5)}, 0.0),
        ({"sex": "female", "snout_vent_length_mm": Span.exactly(200.0)}, 1.0),  # adults from 180 mm
        ({"sex": "female", "snout_vent_length_mm": Span.exactly(120.0)}, 0.0),
        ({"sex": "female", "mass_g": Span.exactly(400.0)}, 1.0),  # adults from 300 g
        ({"sex": "female", "mass_g": Span.exactly(40.0)}, 0.0),
    ],
)
def test_a_grown_female_is_both(believe: Any, animal: dict[str, Any], expected: float) -> None:
    """Age and size of a bearded dragon against clinical/taxa.csv."""
    assert believe("pogona_vitticeps", animal=animal)["female_adult"].mean == expected


def test_what_is_not_told_of_sex_or_age_takes_its_usual_share(believe: Any) -> None:
    """An adult of unknown sex is a female with the judged share of 0.4 to 0.6."""
    assert 0.4 < believe(animal={"age_class": "adult"})["female_adult"].mean < 0.6
    assert believe()["female_adult"].state == "unknown"


def test_insect_eaters_by_kind(believe: Any) -> None:
    """A leopard gecko eats insects, an iguana and a python do not, a bearded dragon eats both."""
    assert believe("eublepharis_macularius")["insect_diet"].mean == 1.0
    assert believe("iguana_iguana")["insect_diet"].mean == 0.0
    assert believe("python_regius")["insect_diet"].mean == 0.0
    assert believe("pogona_vitticeps")["insect_diet"].state == "unknown"
