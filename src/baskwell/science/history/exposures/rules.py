"""The one table of rules.

Exposure id of ``clinical/exposures.csv`` to the function that reads it from the facts.

A rule returns None where nothing told of bears on its exposure.
A test holds this table and the evidence equal.
"""

from collections.abc import Callable, Mapping
from types import MappingProxyType

from baskwell.science.history.exposures import (
    animal,
    climate,
    contact,
    diet_composition,
    diet_habits,
    events,
    housing,
    light,
    treatments,
    vitamins,
)
from baskwell.science.history.exposures.facts import Facts
from baskwell.science.history.exposures.opinion import Opinion

Rule = Callable[[Facts], Opinion | None]

RULES: Mapping[str, Rule] = MappingProxyType(
    {
        # who it is
        "lizard_vs_chelonian": animal.lizard_rather_than_chelonian,
        "chelonian_or_lizard": animal.chelonian_or_lizard,
        "python": animal.python,
        "horsfield": animal.horsfield,
        "wild_caught": animal.wild_caught,
        "captive_keeping": animal.captive_keeping,
        "female_adult": animal.adult_female,
        # what it ate
        "low_ca_p": diet_composition.low_calcium_to_phosphorus,
        "vita_poor": diet_composition.poor_in_vitamin_a,
        "low_protein": diet_composition.low_protein,
        "high_protein_tort": diet_composition.high_protein_tortoise,
        "fruit_heavy": diet_composition.fruit_heavy,
        "animal_protein_herb": diet_composition.animal_protein_in_plant_eater,
        "pet_food": diet_composition.pet_food,
        "herbivore_greens": diet_composition.dark_greens_for_plant_eater,
        "whole_prey": diet_composition.whole_prey,
        "insect_diet": diet_composition.insect_diet,
        "insect_unsupp": diet_composition.insects_unsupplemented,
        "brassica_only": diet_composition.mostly_brassicas,
        "frozen_fish": diet_composition.frozen_or_thiaminase_fish,
        # how it was fed
        "underfed": diet_habits.underfed,
        "overfeed": diet_habits.overfed,
        "single_food": diet_habits.single_food,
        "no_ca_supp": diet_habits.no_calcium_source,
        "live_prey": diet_habits.live_prey,
        "medicated_prey": diet_habits.medicated_prey,
        "soft_food_no_abrasive": diet_habits.soft_food_without_abrasive,
        # light
        "no_uvb": light.no_uvb,
        "lamp_old": light.lamp_old,
        "lamp_blocked": light.lamp_blocked,
        # warmth, moisture, water
        "cold": climate.cold,
        "dry_rearing": climate.dry_rearing,
        "dry_gecko": climate.no_moist_hide,
        "no_water": climate.no_water,
        "amphib_pond": climate.amphibians_or_pond,
        # the box
        "cramped": housing.cramped,
        "wet_dirty": housing.wet_dirty,
        "loose_sand": housing.loose_sand,
        "coarse_substrate": housing.coarse_substrate,
        "unguarded_heat": housing.unguarded_heat,
        "female_no_nest": housing.female_without_nest,
        # company
        "mixed_species": contact.mixed_species,
        "mixed_orders": contact.mixed_orders,
        "new_contact": contact.new_contact,
        "bullying": contact.bullying,
        "crowding": contact.crowding,
        "losses_in_group": contact.losses_in_group,
        "urban_dog": contact.dog_around,
        # what happened to it
        "attack": events.attack,
        "escaped": events.escaped,
        "frost_or_chill": events.frost_or_chill,
        "winter_rest_recent": events.winter_rest_recent,
        "metal_access": events.metal_access,
        "chemical_contact": events.chemical_contact,
        # what it was given
        "vita_injection": treatments.vitamin_a_injection,
        "ivermectin_given": treatments.ivermectin_given,
        "aminoglycoside": treatments.aminoglycoside_given,
        "drug_given": treatments.drug_given,
        "vita_oversupp": vitamins.vitamin_a_oversupplied,
        "d3_oversupply": vitamins.vitamin_d3_oversupplied,
    }
)
