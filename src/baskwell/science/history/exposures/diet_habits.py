"""Exposures that lie in how it was fed: how much, how often, how many foods, live, cut, dusted."""

import numpy as np

from baskwell.science.case.model import DietItem
from baskwell.science.case.span import Span
from baskwell.science.draws import Draws
from baskwell.science.history.exposures import foods
from baskwell.science.history.exposures.animal import chance_adult
from baskwell.science.history.exposures.events import poisoned_prey_told
from baskwell.science.history.exposures.facts import Facts
from baskwell.science.history.exposures.opinion import Opinion, either, highest, odds_times, settled
from baskwell.science.history.exposures.saying import number, share_in_words
from baskwell.science.history.exposures.supplements import no_supplement_told, supplement
from baskwell.science.history.exposures.timing import share_at_most, share_below
from baskwell.science.history.exposures.words import mentions, plain

CUT = ("chopped", "mixed")
SOFT_FORMS = ("tinned", "cooked")


def underfed(facts: Facts) -> Opinion | None:
    """Too little or too seldom: the share of need where told, else the meals a week for its kind."""
    need, meals = facts.case.history.fed_share_of_need, facts.case.history.meals_per_week
    if need is not None:
        return Opinion(
            share_below(need, facts.judgement("underfed_share_of_need")),
            f"It got {number(need)} of what it needed.",
        )
    limit = _meals_limit(facts, "too_few_meals")
    if meals is None or limit is None:
        return None
    seldom = share_below(meals, limit)
    rest = odds_times(facts.prior("underfed"), facts.judgement("underfed_odds_meals_enough"))
    return Opinion(
        np.maximum(seldom, rest), f"It got {number(meals)} meals a week; how large they were is not told."
    )


def overfed(facts: Facts) -> Opinion | None:
    """Fed too much: above need where that is told, else too often for a grown animal, or fat grubs.

    Without fat grubs and without a word on how much or how often, it stays unknown.
    """
    need, meals = facts.case.history.fed_share_of_need, facts.case.history.meals_per_week
    if need is not None:
        above = 1.0 - share_at_most(need, facts.judgement("overfed_share_of_need"))
        return Opinion(above, f"It got {number(need)} of what it needed.")
    often, grubs = _too_often(facts, meals), _fat_grubs(facts)
    if meals is not None and often is not None:
        grounds = (often, grubs) if grubs is not None else (often,)
        return Opinion(either(*grounds), f"It got {number(meals)} meals a week; fat grubs are counted.")
    if grubs is None or grubs.max() == 0:
        return None
    return Opinion(np.maximum(grubs, facts.prior("overfeed")), "Fat grubs are among the foods told of.")


def _too_often(facts: Facts, meals: Span | None) -> Draws | None:
    limit = _meals_limit(facts, "too_many_meals")
    if meals is None or limit is None:
        return None
    adult = chance_adult(facts)
    of_animals = _meals_of_animals(facts)
    often = 1.0 - share_at_most(meals, limit / np.maximum(of_animals, 1e-6))
    return often * (adult if adult is not None else facts.judgement("adult_share"))


def _meals_of_animals(facts: Facts) -> Draws:
    """Share of the meals that count: for a mixed eater those of animal food, for all others every one."""
    if not facts.has_tag("omnivorous"):
        return facts.constant(1.0)
    if facts.diet is None:
        return facts.judgement("meals_hold_animal_food")
    return facts.diet.as_fed_share_of(lambda food: food.group in foods.ANIMAL_GROUPS)


def _fat_grubs(facts: Facts) -> Draws | None:
    if facts.diet is None:
        return None
    fat = facts.evidence.exposure_judgements["fatty_insect_fat_share"].mode
    grubs = facts.diet.as_fed_share_of(lambda food: foods.is_fatty_insect(food, fat))
    return settled(grubs > facts.judgement("many_fat_grubs_share"))


def _meals_limit(facts: Facts, kind: str) -> Draws | None:
    """The judged limit of meals a week for snakes, insect and meat eaters, and plant eaters.

    None for others.
    """
    if facts.taxon.clade == "snake":
        return facts.judgement(f"{kind}_snake")
    if facts.has_tag("herbivorous"):
        return facts.judgement(f"{kind}_plant_eater")
    if facts.has_tag("insectivorous", "omnivorous", "carnivorous"):
        return facts.judgement(f"{kind}_other")
    return None


def single_food(facts: Facts) -> Opinion | None:
    """One food only, or nearly: the share of the commonest food. A lone complete feed counts in part."""
    if facts.diet is None:
        return None
    largest = highest(facts.constant(0.0), *facts.diet.item_shares_as_fed().values())
    alone = settled(largest > facts.judgement("nearly_all_share"))
    if _all_are_groups(facts.case.history.diet):
        alone = alone * facts.judgement("group_word_is_one_food")
    elif any(
        item.food in facts.case.labels or item.food == "complete_feed" for item in facts.case.history.diet
    ):
        alone = alone * facts.judgement("complete_feed_alone_counts")
    return Opinion(alone, share_in_words("the commonest food", largest))


def _all_are_groups(diet: tuple[DietItem, ...]) -> bool:
    return all(
        item.food in ("fruit", "greens", "vegetables", "invertebrates", "vertebrates") for item in diet
    )


def no_calcium_source(facts: Facts) -> Opinion | None:
    """No calcium source offered: known where one is told, denied or stopped; silence leaves it unknown."""
    if facts.diet is not None and facts.diet.share_of(foods.is_calcium_source).max() > 0:
        return facts.no("A calcium source is among the foods.")
    given = supplement(facts, "calcium_source")
    if given is not None:
        never = settled(given.days_per_week <= 0.0)
        return Opinion(
            1.0 - given.chance * (1.0 - never), "The calcium source and how often it was given are told."
        )
    if no_supplement_told(facts):
        return None
    return facts.likely("no_calcium_among_supplements", "The supplements told of hold no calcium.")


def live_prey(facts: Facts) -> Opinion | None:
    """Live rodents or birds left with it; live insects do not count."""
    told = [item for item in facts.case.history.diet if _may_bite(facts, item)]
    if not told:
        return _no_vertebrate_prey(facts)
    live = {item.live for item in told if item.days_per_week is None or item.days_per_week.high != 0}
    if True in live:
        return facts.yes("Live vertebrate prey is told of.")
    if None not in live:
        return facts.no("Its vertebrate prey is dead when offered.")
    frozen = all(item.form in ("frozen", "cooked", "tinned", "dry") for item in told if item.live is None)
    return facts.no("Its vertebrate prey comes frozen.") if frozen else None


def medicated_prey(facts: Facts) -> Opinion | None:
    """Prey treated with a drug or poisoned."""
    told = [item for item in facts.case.history.diet if plain(item.treated_with)]
    named = [item for item in told if not _untreated(facts, item)]
    if named and any(not mentions(facts, "treated_with", item.treated_with, "not_named") for item in named):
        return facts.yes("Its prey had been treated with a drug or poison.")
    if poisoned_prey_told(facts):
        return facts.yes("Treated or poisoned prey is told of.")
    if (
        told
        and not named
        and len(told) == len([item for item in facts.case.history.diet if _is_prey(facts, item)])
    ):
        return facts.no("Its prey is stated to be untreated.")
    return _no_prey(facts)


def _untreated(facts: Facts, item: DietItem) -> bool:
    return mentions(facts, "treated_with", item.treated_with, "nothing")


def _may_bite(facts: Facts, item: DietItem) -> bool:
    food = facts.evidence.foods.get(item.food)
    return item.food == "vertebrates" or (food is not None and foods.is_rodent_or_bird(food))


def _is_prey(facts: Facts, item: DietItem) -> bool:
    food = facts.evidence.foods.get(item.food)
    kinds = ("vertebrates", "invertebrates")
    return item.food in kinds or (
        food is not None and (foods.is_insect(food) or foods.is_whole_vertebrate(food))
    )


def _no_vertebrate_prey(facts: Facts) -> Opinion | None:
    return facts.no("No vertebrate prey is among the foods told of.") if facts.case.history.diet else None


def _no_prey(facts: Facts) -> Opinion | None:
    diet = facts.case.history.diet
    if diet and not any(_is_prey(facts, item) for item in diet):
        return facts.no("No prey is among the foods told of.")
    return None


def soft_food_without_abrasive(facts: Facts) -> Opinion | None:
    """Soft cut food and nothing rough: both are weighed, each by what is told of it."""
    smooth, soft = _nothing_rough(facts), _soft_food(facts)
    if smooth is None and soft is None:
        return None
    smooth = smooth if smooth is not None else facts.judgement("nothing_rough_where_not_told")
    soft = soft if soft is not None else facts.judgement("soft_food_where_not_told")
    return Opinion(
        smooth * soft, "The food's softness and what wears the beak are weighed.", ("abrasive_surface",)
    )


def _nothing_rough(facts: Facts) -> Draws | None:
    surroundings = facts.case.history.surroundings
    if supplement(facts, "abrasive") is not None:
        return facts.judgement("nothing_rough_with_cuttlebone")
    if surroundings is None:
        return None
    if surroundings.abrasive_surface is not None:
        return facts.constant(0.0 if surroundings.abrasive_surface else 1.0)
    grazes = surroundings.outdoor is True and surroundings.container in ("pen", "garden", "pond")
    return facts.judgement("nothing_rough_outdoors") if grazes else None


def _soft_food(facts: Facts) -> Draws | None:
    diet = facts.case.history.diet
    if facts.diet is None or not diet:
        return None
    rough = settled(facts.diet.as_fed_share_of(foods.is_rough) > facts.judgement("rough_food_share"))
    cut = any(item.presentation in CUT or item.form in SOFT_FORMS for item in diet)
    whole = all(item.presentation == "whole" for item in diet)
    uncut = 1.0 if cut else 0.0 if whole else facts.judgement("cut_where_not_told")
    return (1.0 - rough) * np.maximum(uncut, facts.judgement("soft_though_whole"))
