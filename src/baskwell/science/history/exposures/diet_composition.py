"""Exposures that lie in what the diet was made of. All need a diet told of; without one they are unknown.

Powders and drops that nobody mentioned may still have been given. Where one would mend or cause the
fault, the probability keeps room for it.
"""

import numpy as np

from baskwell.science.draws import Draws
from baskwell.science.history.exposures import foods
from baskwell.science.history.exposures.animal import insect_diet_by_kind
from baskwell.science.history.exposures.facts import Facts
from baskwell.science.history.exposures.opinion import Opinion, settled
from baskwell.science.history.exposures.saying import share_in_words, told
from baskwell.science.history.exposures.supplements import supplement

VITAMIN_A = "vitamin_a_activity_iu_per_kg_dm"
NOT_A_PLANT_EATER = "Its kind does not live on plants alone."


def low_calcium_to_phosphorus(facts: Facts) -> Opinion | None:
    """Calcium to phosphorus of the diet below 1, with room for a calcium source that nobody mentioned."""
    ratio = facts.found("ca_p_ratio")
    if ratio is None:
        return None
    low = _below(ratio, facts.constant(1.0), facts.prior("low_ca_p"))
    if supplement(facts, "calcium_source") is None:
        low = low * facts.judgement("listed_calcium_stands")
    return Opinion(low, told(facts, "ca_p_ratio"), ("ca_p_ratio",))


def poor_in_vitamin_a(facts: Facts) -> Opinion | None:
    """Vitamin A (retinol, carotenoids) below what is wanted, with room for a vitamin nobody mentioned."""
    activity, wanted = (
        facts.found(VITAMIN_A),
        facts.wanted_low(VITAMIN_A),
    )
    if activity is None or wanted is None:
        return None
    poor = _below(activity, facts.constant(wanted), facts.prior("vita_poor"))
    given = supplement(facts, "vitamin_a")
    if given is None:
        poor = poor * facts.judgement("listed_vitamin_a_stands")
    return Opinion(poor, told(facts, VITAMIN_A), (VITAMIN_A,))


def low_protein(facts: Facts) -> Opinion | None:
    """Protein far below what is wanted: less than a judged part of the lowest level."""
    protein, wanted = facts.found("crude_protein_pct_dm"), facts.wanted_low("crude_protein_pct_dm")
    if protein is None or wanted is None:
        return None
    far_below = _below(
        protein, wanted * facts.judgement("far_too_little_protein"), facts.prior("low_protein")
    )
    return Opinion(far_below, told(facts, "crude_protein_pct_dm"), ("crude_protein_pct_dm",))


def high_protein_tortoise(facts: Facts) -> Opinion | None:
    """A tortoise on a protein level nearer to 30 than to 14 % of dry matter (the two diets of the trial)."""
    if facts.taxon.family and facts.taxon.family != "Testudinidae":
        return facts.no("It is no tortoise.")
    protein = facts.found("crude_protein_pct_dm")
    if protein is None:
        return None
    high = 1.0 - _below(
        protein, facts.judgement("high_protein_tortoise_pct"), 1.0 - facts.prior("high_protein_tort")
    )
    return Opinion(high, told(facts, "crude_protein_pct_dm"), ("crude_protein_pct_dm",))


def fruit_heavy(facts: Facts) -> Opinion | None:
    """Fruit above about 15 % of the dry matter."""
    return _share_above(facts, foods.is_fruit, "fruit_heavy_share", "fruit")


def animal_protein_in_plant_eater(facts: Facts) -> Opinion | None:
    """A plant eater with a part of animal food or legumes worth counting."""
    if _not_a_plant_eater(facts):
        return facts.no(NOT_A_PLANT_EATER)
    return _share_above(facts, foods.is_animal_or_legume, "animal_protein_share", "animal food and legumes")


def pet_food(facts: Facts) -> Opinion | None:
    """Cat or dog food as a main food."""
    return _share_above(facts, foods.is_pet_food, "main_food_share", "pet food")


def dark_greens_for_plant_eater(facts: Facts) -> Opinion | None:
    """A plant eater living mainly on dark leaves and weeds."""
    if _not_a_plant_eater(facts):
        return facts.no(NOT_A_PLANT_EATER)
    carotene = facts.evidence.exposure_judgements["dark_green_carotene_ug"].mode
    return _share_above(
        facts, lambda food: foods.is_green(food, carotene), "half_of_diet", "dark leaves and weeds"
    )


def whole_prey(facts: Facts) -> Opinion | None:
    """Whole vertebrate prey as nearly all of the diet."""
    return _share_above(facts, foods.is_whole_vertebrate, "nearly_all_share", "whole prey")


def insect_diet(facts: Facts) -> Opinion | None:
    """Insects as the larger part of the diet; by its kind where no diet is told."""
    if facts.diet is None:
        return insect_diet_by_kind(facts)
    return _share_above(facts, foods.is_insect, "half_of_diet", "insects")


def insects_unsupplemented(facts: Facts) -> Opinion | None:
    """All insects, neither dusted nor well fed before use; half-told feeding keeps a judged share."""
    if facts.diet is None:
        return None
    share = facts.diet.as_fed_share_of(foods.is_insect)
    all_insects = settled(share > facts.judgement("nearly_all_share"))
    because = share_in_words("insects", share) + " Dusting and feeding them are weighed as told."
    return Opinion(all_insects * _not_supplemented(facts), because)


def _not_supplemented(facts: Facts) -> Draws:
    loaded = {item.gut_loaded for item in facts.case.history.diet}
    dusted = supplement(facts, "calcium_source")
    if True in loaded:
        return facts.constant(0.0)
    if dusted is not None:
        seldom = settled(dusted.days_per_week < facts.judgement("dusting_days_enough"))
        return 1.0 - dusted.chance * (1.0 - seldom)
    return facts.judgement("undusted_where_not_told")


def mostly_brassicas(facts: Facts) -> Opinion | None:
    """Brassicas above half of the diet without a source of iodine."""
    if facts.diet is None:
        return None
    share = facts.diet.share_of(foods.is_brassica)
    most = settled(share > facts.judgement("half_of_diet"))
    iodine = supplement(facts, "iodine_source")
    without = 1.0 - iodine.chance if iodine is not None else facts.constant(1.0)
    seaweed = facts.diet.share_of(foods.is_iodine_source)
    without = without * settled(seaweed <= 0.0)
    return Opinion(most * without, share_in_words("brassicas", share))


def frozen_or_thiaminase_fish(facts: Facts) -> Opinion | None:
    """Fish frozen, or of a kind that holds thiaminase, above half of the diet as fed."""
    if facts.diet is None:
        return None
    half = facts.judgement("half_of_diet")
    thiaminase = settled(facts.diet.as_fed_share_of(foods.holds_thiaminase) > half)
    share = facts.diet.as_fed_share_of(foods.is_fish)
    frozen = settled(share > half) * _fish_frozen(facts)
    return Opinion(np.maximum(thiaminase, frozen), share_in_words("fish", share))


def _fish_frozen(facts: Facts) -> Draws:
    table = facts.evidence.foods
    forms = {
        item.form
        for item in facts.case.history.diet
        if item.food in table and foods.is_fish(table[item.food])
    }
    if "frozen" in forms:
        return facts.constant(1.0)
    return facts.judgement("fish_frozen_where_not_told") if None in forms else facts.constant(0.0)


def _share_above(facts: Facts, chosen: foods.Chosen, judgement_id: str, what: str) -> Opinion | None:
    if facts.diet is None:
        return None
    share = facts.diet.share_of(chosen)
    return Opinion(settled(share > facts.judgement(judgement_id)), share_in_words(what, share))


def _below(draws: Draws, limit: Draws, unknown: Draws) -> Draws:
    """Whether draws lie below a limit; where a draw is not known, the share that is usual."""
    return np.where(np.isnan(draws), unknown, settled(draws < limit))


def _not_a_plant_eater(facts: Facts) -> bool:
    return bool(facts.taxon.tags) and facts.taxon.rank == "species" and not facts.has_tag("herbivorous")
