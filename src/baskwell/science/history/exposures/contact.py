"""Exposures from the animals around it."""

from baskwell.evidence.rows.clinical import Taxon
from baskwell.science.case.model import Contact
from baskwell.science.draws import Draws
from baskwell.science.history.exposures.events import share_recent
from baskwell.science.history.exposures.facts import Facts
from baskwell.science.history.exposures.opinion import Opinion, either, settled
from baskwell.science.history.exposures.timing import share_at_most
from baskwell.science.history.exposures.words import chance_of

ALONE = "It is kept without other reptiles."


def mixed_species(facts: Facts) -> Opinion | None:
    """Two or more chelonian species in contact; only species named apart from its own count for certain."""
    contact = _contact(facts)
    if _alone(contact):
        return facts.no(ALONE)
    others = [kind for kind in _companions(facts, contact) if kind.clade == "chelonian"]
    own = [facts.taxon] if facts.taxon.clade == "chelonian" else []
    if any(_differ(one, other) for one in own + others for other in others):
        return facts.yes("Chelonians of different species were kept together or in turn.")
    if _kinds_in_doubt(own, others):
        return facts.likely(
            "other_species_where_kind_not_known", "It had chelonian company of a kind not known exactly."
        )
    if contact.species:
        return facts.no("All its chelonian company is of one species.")
    return _company_of_unknown_kind(facts, contact, "other_species_among_company")


def _kinds_in_doubt(own: list[Taxon], others: list[Taxon]) -> bool:
    return any(one.taxon_id != other.taxon_id or one.rank == "higher" for one in own for other in others)


def mixed_orders(facts: Facts) -> Opinion | None:
    """Chelonians kept with or after snakes or lizards."""
    contact = _contact(facts)
    if _alone(contact):
        return facts.no(ALONE)
    clades = {kind.clade for kind in _companions(facts, contact)} | {facts.taxon.clade}
    if "chelonian" in clades and clades & {"snake", "lizard"}:
        return facts.yes("Chelonians were kept with or after snakes or lizards.")
    if contact.species and "" not in clades:
        return facts.no("The animals named with it are of one order.")
    return _company_of_unknown_kind(facts, contact, "other_order_among_company")


def _company_of_unknown_kind(facts: Facts, contact: Contact, judgement_id: str) -> Opinion | None:
    if contact.other_reptiles or contact.number:
        return facts.likely(judgement_id, "It had the company of reptiles whose kind is not told.")
    return None


def new_contact(facts: Facts) -> Opinion | None:
    """A new animal within twelve months, or its own joining of the group within that time."""
    contact = _contact(facts)
    limit = facts.judgement("new_contact_months")
    if contact.new_animals_within_months is not None:
        share = share_at_most(contact.new_animals_within_months, limit)
        return Opinion(share, "The time since a new animal came is told.")
    if _alone(contact):
        return facts.no(ALONE)
    if contact.months_together is None:
        return None
    joined = share_at_most(contact.months_together, limit)
    return Opinion(joined, "The time it has been with the others is told.") if joined.max() > 0 else None


def bullying(facts: Facts) -> Opinion | None:
    """A dominant companion: as stated, or bitten by its own kind."""
    contact = _contact(facts)
    if contact.relation == "bullied":
        return facts.yes("It was bullied by its company.")
    bitten = chance_of(facts, "detail", [event.detail for event in facts.case.history.events], "own_kind")
    if bitten.max() > 0:
        return Opinion(bitten, "It was attacked by its own company.")
    if contact.relation is not None:
        return facts.no("It lived in peace with its company, or was itself the stronger.")
    return facts.no(ALONE) if _alone(contact) else None


def crowding(facts: Facts) -> Opinion | None:
    """Many animals together, or a recent move or capture."""
    contact, group = _contact(facts), facts.case.animal.group_size
    moved = share_recent(facts, ("move",), "moved_lately_weeks")
    known = [
        chance
        for chance in (moved, _many(facts, contact, group), _crowded_source(facts))
        if chance is not None
    ]
    if not known:
        return None
    return Opinion(either(*known), "How many live together, or a recent move, is told.")


def _many(facts: Facts, contact: Contact, group: int | None) -> Draws | None:
    """Whether a told number is many; where it is not, room for a recent capture or transport stays."""
    few = facts.judgement("crowded_though_few")
    if contact.number is not None or (group is not None and group > 1):
        together = max(contact.number or 0, (group or 1) - 1)
        return either(settled(facts.judgement("many_animals") <= together), few)
    return few if _alone(contact) else None


def _crowded_source(facts: Facts) -> Draws | None:
    crowded = facts.case.history.source in ("farm", "confiscated")
    return facts.judgement("crowded_at_farm_or_seizure") if crowded else None


def losses_in_group(facts: Facts) -> Opinion | None:
    """Deaths within a year or several ill in the group."""
    contact, animal = _contact(facts), facts.case.animal
    if contact.losses or animal.number_dead:
        return Opinion(_within_a_year(facts, contact), "Others in its group died.")
    if _several_ill(contact, animal.number_affected):
        return facts.yes("Several animals in its group are ill.")
    if contact.others_ill:
        return facts.likely("one_other_ill", "Another animal of its group is ill.")
    if contact.losses is not None:
        return facts.no("No deaths in its group are stated.")
    return facts.no(ALONE) if _alone(contact) and (animal.group_size or 1) == 1 else None


def _several_ill(contact: Contact, affected: int | None) -> bool:
    many_others = contact.others_ill is not None and contact.others_ill is not True and contact.others_ill > 1
    return many_others or (affected or 0) > 1


def _within_a_year(facts: Facts, contact: Contact) -> Draws:
    if contact.losses_weeks_before is None:
        return facts.constant(1.0)
    return share_at_most(contact.losses_weeks_before, facts.judgement("losses_weeks"))


def dog_around(facts: Facts) -> Opinion | None:
    """A dog in home or garden: among the other pets named, or in what happened."""
    pets = _contact(facts).other_pets
    events = [event.detail for event in facts.case.history.events]
    if chance_of(facts, "detail", events, "dog").max() > 0:
        return facts.yes("A dog is named in what happened to it.")
    if not pets:
        return None
    dog = chance_of(facts, "other_pets", pets, "dog")
    return Opinion(dog, "The other pets are named.")


def _contact(facts: Facts) -> Contact:
    return facts.case.history.contact or Contact()


def _alone(contact: Contact) -> bool:
    stated = contact.other_reptiles is False or (contact.number == 0 and not contact.other_reptiles)
    return stated and not contact.species


def _companions(facts: Facts, contact: Contact) -> list[Taxon]:
    return [facts.evidence.taxa[name] for name in contact.species if name in facts.evidence.taxa]


def _differ(one: Taxon, other: Taxon) -> bool:
    """Whether two kinds are surely two species: different, and neither may be the other."""
    if one.taxon_id == other.taxon_id:
        return False
    pairs = ((one.clade, other.clade), (one.family, other.family), (one.genus, other.genus))
    apart = any(left and right and left != right for left, right in pairs)
    return apart or (one.rank == "species" and other.rank == "species")
