"""Exposures that follow from who the animal is and where it came from."""

from baskwell.science.case.span import Span
from baskwell.science.draws import Draws
from baskwell.science.history.exposures.facts import Facts
from baskwell.science.history.exposures.opinion import Opinion, highest
from baskwell.science.history.exposures.saying import number
from baskwell.science.history.exposures.timing import share_below

YOUNG = ("hatchling", "juvenile", "subadult")


def lizard_rather_than_chelonian(facts: Facts) -> Opinion | None:
    """A lizard; known as soon as the clade is."""
    return _of_clade(facts, ("lizard",))


def chelonian_or_lizard(facts: Facts) -> Opinion | None:
    """A chelonian or lizard rather than a snake; known as soon as the clade is."""
    return _of_clade(facts, ("chelonian", "lizard"))


def python(facts: Facts) -> Opinion | None:
    """A python; unknown for a snake of unknown family."""
    name = _name(facts)
    if facts.taxon.family:
        return facts.yes(name) if facts.taxon.family == "Pythonidae" else facts.no(name)
    return facts.no(name) if facts.taxon.clade in ("chelonian", "lizard") else None


def horsfield(facts: Facts) -> Opinion | None:
    """A Horsfield's tortoise, itself or in contact."""
    if facts.taxon.taxon_id == "testudo_horsfieldii":
        return facts.yes(_name(facts))
    contact = facts.case.history.contact
    if contact is None or _may_be_horsfield(facts):
        return None
    if "testudo_horsfieldii" in contact.species:
        return facts.yes("It was kept with a Horsfield's tortoise.")
    if contact.other_reptiles is False or contact.species:
        return facts.no("No Horsfield's tortoise is among the animals named.")
    return None


def _may_be_horsfield(facts: Facts) -> bool:
    return facts.taxon.rank == "higher" and facts.taxon.genus in ("", "Testudo") and (
        facts.taxon.clade in ("", "chelonian")
    )  # fmt: skip


def insect_diet_by_kind(facts: Facts) -> Opinion | None:
    """Insect-eating by kind, for an animal whose diet is not told; unknown for kinds that eat mixed food."""
    if not facts.taxon.tags:
        return None
    if facts.has_tag("insectivorous") and not facts.has_tag("omnivorous", "carnivorous", "herbivorous"):
        return facts.yes(_name(facts))
    if facts.has_tag("herbivorous", "whole_prey") and not facts.has_tag("insectivorous", "omnivorous"):
        return facts.no(_name(facts))
    return None


def wild_caught(facts: Facts) -> Opinion | None:
    """Caught in the wild, as stated or by where it came from."""
    history = facts.case.history
    if history.wild_caught is not None:
        stated = "It was caught in the wild." if history.wild_caught else "It was bred in captivity."
        return facts.yes(stated) if history.wild_caught else facts.no(stated)
    if history.source == "wild":
        return facts.yes("It came from the wild.")
    if history.source in ("breeder", "laboratory"):
        return facts.likely("wild_caught_from_breeder", "It came from people who breed reptiles.")
    if history.source == "found":
        return facts.likely("wild_caught_found", "It was found; it may be wild or lost.")
    return None


def captive_keeping(facts: Facts) -> Opinion | None:
    """Kept by people, as every fact of keeping shows."""
    history = facts.case.history
    if (
        history.diet
        or history.lights
        or history.surroundings is not None
        or history.meals_per_week is not None
    ):
        return facts.yes("How people kept it is told.")
    if history.source in ("wild", "found"):
        return facts.likely("captive_found", "It came straight from outdoors.")
    kept = history.source is not None or bool(history.years)
    return facts.yes("It came from people who kept it.") if kept else None


def adult_female(facts: Facts) -> Opinion | None:
    """A grown female: the product of what is known of sex and of age."""
    female, adult = chance_female(facts), chance_adult(facts)
    if female is None and adult is None:
        return None
    female = female if female is not None else facts.judgement("female_share")
    adult = adult if adult is not None else facts.judgement("adult_share")
    return Opinion(female * adult, _sex_and_age(facts))


def chance_female(facts: Facts) -> Draws | None:
    """Probability of a female; None where the sex is not told."""
    if facts.case.animal.sex is not None:
        return facts.constant(1.0 if facts.case.animal.sex == "female" else 0.0)
    return facts.constant(1.0) if facts.case.animal.reproductive in ("gravid", "laid") else None


def chance_adult(facts: Facts) -> Draws | None:
    """Probability of an adult by the age word, else by age or size, whichever says more.

    None where none of them is told. Size counts as adult from the lowest adult length or mass of
    ``clinical/taxa.csv``.
    """
    animal = facts.case.animal
    if animal.age_class is not None:
        return facts.constant(0.0 if animal.age_class in YOUNG else 1.0)
    if animal.reproductive in ("gravid", "laid"):
        return facts.constant(1.0)
    known = [
        share
        for share in (_adult_by_age(facts, animal.age_years), _adult_by_size(facts))
        if share is not None
    ]
    return highest(*known) if known else None


def _adult_by_age(facts: Facts, age: Span | None) -> Draws | None:
    low, high = facts.taxon.years_to_adult_length_low, facts.taxon.years_to_adult_length_high
    if age is None or low is None or high is None:
        return None
    grown_at = facts.between("years to adult length", low, (low + high) / 2.0, high)
    return 1.0 - share_below(age, grown_at)


def _adult_by_size(facts: Facts) -> Draws | None:
    animal, kind = facts.case.animal, facts.taxon
    length = {
        "SCL": animal.straight_carapace_length_mm,
        "SVL": animal.snout_vent_length_mm,
        "TL": animal.total_length_mm,
    }.get(kind.length_kind)
    if length is not None and kind.adult_length_mm_low is not None:
        return facts.constant(1.0 - float(share_below(length, kind.adult_length_mm_low)[0]))
    if animal.mass_g is not None and kind.adult_mass_g_low is not None:
        grown = kind.adult_mass_g_low * facts.judgement("thin_adult_share_of_lowest_mass")
        return 1.0 - share_below(animal.mass_g, grown)
    return None


def _sex_and_age(facts: Facts) -> str:
    animal = facts.case.animal
    sizes = (
        animal.age_class,
        animal.age_years and f"{number(animal.age_years)} years",
        animal.straight_carapace_length_mm and f"shell {number(animal.straight_carapace_length_mm)} mm",
        animal.snout_vent_length_mm and f"snout to vent {number(animal.snout_vent_length_mm)} mm",
        animal.mass_g and f"{number(animal.mass_g)} g",
    )
    told = ", ".join(str(size) for size in sizes if size) or "age and size not told"
    return f"Sex: {animal.sex or 'not told'}; {told}."


def _of_clade(facts: Facts, clades: tuple[str, ...]) -> Opinion | None:
    if not facts.taxon.clade:
        return None
    return facts.yes(_name(facts)) if facts.taxon.clade in clades else facts.no(_name(facts))


def _name(facts: Facts) -> str:
    kind = facts.taxon.common_names[0] if facts.taxon.common_names else facts.taxon.scientific_name
    return f"Its kind is stated: {kind}."
