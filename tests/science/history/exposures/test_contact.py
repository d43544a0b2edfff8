"""Company: who was with it, for how long, and how they fared."""

from typing import Any

import pytest

from baskwell.science.case.model import Contact, Event
from baskwell.science.case.span import Span

# Every expected probability follows from the definition of the exposure in clinical/exposures.csv.


@pytest.mark.parametrize(
    ("taxon", "contact", "expected"),
    [
        ("testudo_hermanni", Contact(species=("testudo_graeca",)), 1.0),
        ("testudo_hermanni", Contact(species=("testudo_hermanni",)), 0.0),
        ("testudo_hermanni", Contact(species=("pogona_vitticeps",)), 0.0),  # no second chelonian
        ("pogona_vitticeps", Contact(species=("testudo_graeca", "trachemys_scripta")), 1.0),
        ("testudo_hermanni", Contact(species=("emydidae",)), 1.0),  # another family: surely two species
        ("testudo_hermanni", Contact(other_reptiles=False), 0.0),
        ("testudo_hermanni", Contact(number=0), 0.0),
    ],
)
def test_two_chelonian_species_are_two_names_that_cannot_be_one(
    believe: Any, taxon: str, contact: Contact, expected: float
) -> None:
    """A higher name counts only where it cannot be the same species."""
    assert believe(taxon, contact=contact)["mixed_species"].mean == expected


def test_company_of_a_kind_not_known_may_be_another_species(believe: Any) -> None:
    """Named by the genus of the animal itself, or not named at all: possible, not certain."""
    for contact in (Contact(species=("testudo",)), Contact(other_reptiles=True), Contact(number=3)):
        belief = believe("testudo_hermanni", contact=contact)["mixed_species"]
        assert belief.state == "known"
        assert 0.0 < belief.mean < 1.0


@pytest.mark.parametrize(
    ("taxon", "species", "expected"),
    [
        ("testudo_hermanni", "pogona_vitticeps", 1.0),
        ("python_regius", "trachemys_scripta", 1.0),
        ("python_regius", "pogona_vitticeps", 0.0),  # no chelonian among them
        ("testudo_hermanni", "trachemys_scripta", 0.0),
    ],
)
def test_orders_mix_where_chelonians_meet_snakes_or_lizards(
    believe: Any, taxon: str, species: str, expected: float
) -> None:
    """By the clades of clinical/taxa.csv."""
    assert believe(taxon, contact=Contact(species=(species,)))["mixed_orders"].mean == expected


@pytest.mark.parametrize(
    ("contact", "expected"),
    [
        (Contact(new_animals_within_months=Span.exactly(6.0)), 1.0),
        (Contact(new_animals_within_months=Span.exactly(18.0)), 0.0),
        (Contact(new_animals_within_months=Span(6.0, 18.0)), 0.5),  # half of the range lies within 12
        (Contact(months_together=Span.exactly(11.0)), 1.0),
        (Contact(other_reptiles=False), 0.0),
    ],
)
def test_new_means_within_twelve_months(believe: Any, contact: Contact, expected: float) -> None:
    """The definition says twelve months; a range counts by its share inside."""
    assert believe(contact=contact)["new_contact"].mean == pytest.approx(expected)


def test_years_together_do_not_exclude_a_newcomer(believe: Any) -> None:
    """Nobody said whether another came since."""
    assert believe(contact=Contact(months_together=Span.exactly(60.0)))["new_contact"].state == "unknown"


@pytest.mark.parametrize(
    ("contact", "expected"),
    [
        (Contact(relation="bullied"), 1.0),
        (Contact(relation="bullies"), 0.0),
        (Contact(relation="peaceful"), 0.0),
        (Contact(other_reptiles=False), 0.0),
    ],
)
def test_bullying_is_read_from_the_relation(believe: Any, contact: Contact, expected: float) -> None:
    """Alone, in peace, or itself the stronger: not bullied."""
    assert believe(contact=contact)["bullying"].mean == expected


def test_a_bite_by_its_own_kind_outweighs_the_owners_peace(believe: Any) -> None:
    """What happened counts before what is thought of the company."""
    bitten = (Event(kind="attack", detail="cage mate"),)
    assert believe(events=bitten, contact=Contact(relation="peaceful"))["bullying"].mean == 1.0


@pytest.mark.parametrize(
    ("contact", "animal", "expected"),
    [
        (Contact(losses=True), {}, 1.0),
        (Contact(losses=5), {}, 1.0),
        (Contact(losses=False), {}, 0.0),
        (Contact(losses=2, losses_weeks_before=Span.exactly(200.0)), {}, 0.0),  # beyond twelve months
        (Contact(others_ill=4), {}, 1.0),
        (Contact(other_reptiles=False), {}, 0.0),
        (None, {"group_size": 20, "number_dead": 3}, 1.0),
        (None, {"group_size": 20, "number_affected": 9}, 1.0),
    ],
)
def test_losses_are_deaths_or_several_ill(
    believe: Any, contact: Contact | None, animal: dict[str, int], expected: float
) -> None:
    """Counted in the contact or in the group that the file speaks for."""
    assert believe(animal=animal, contact=contact)["losses_in_group"].mean == expected


def test_crowding_grows_with_the_number(believe: Any) -> None:
    """Three are fewer than most would call many; twenty are many for all (judgement row)."""
    few, some, many = (believe(contact=Contact(number=n))["crowding"].mean for n in (3, 8, 20))
    assert few < 0.1
    assert 0.0 < some < 1.0
    assert many == 1.0


def test_a_recent_move_crowds_and_an_old_one_does_not(believe: Any) -> None:
    """A week ago and two years ago, against the judged window of 2 to 12 weeks."""
    recent = (Event(kind="move", weeks_before=Span.exactly(1.0)),)
    old = (Event(kind="move", weeks_before=Span.exactly(104.0)),)
    assert believe(events=recent)["crowding"].mean == 1.0
    assert believe(events=old)["crowding"].mean == 0.0


@pytest.mark.parametrize(("pets", "expected"), [(("dog", "cat"), 1.0), (("cat",), 0.0), (("none",), 0.0)])
def test_a_list_of_pets_settles_whether_there_is_a_dog(
    believe: Any, pets: tuple[str, ...], expected: float
) -> None:
    """An empty list is no list."""
    assert believe(contact=Contact(other_pets=pets))["urban_dog"].mean == expected
    assert believe(contact=Contact())["urban_dog"].state == "unknown"


def test_a_dog_in_what_happened_is_a_dog_around(believe: Any) -> None:
    """The attack names it."""
    assert believe(events=(Event(kind="attack", detail="dog, front left leg"),))["urban_dog"].mean == 1.0
