"""May this be given, how much at the most, and how is it measured."""

import datetime as dt
from collections.abc import Mapping

import numpy as np

from baskwell.evidence import Evidence
from baskwell.science.case.model import Case
from baskwell.science.dosing.allowance import allowances_for, proposed
from baskwell.science.dosing.amounts import held_by, ordered_product, product_of
from baskwell.science.dosing.asked import Asked, Giving
from baskwell.science.dosing.before import BY_VET, hindered, no_d3_by_default
from baskwell.science.dosing.book import NO_MASS, keep_book, set_up
from baskwell.science.dosing.product import Product, StrengthError
from baskwell.science.dosing.recipe import least_units, recipe_for
from baskwell.science.dosing.result import Allowance, DosePlan
from baskwell.science.dosing.substances import SUBSTANCES, agent_named, substances_of
from baskwell.science.dosing.tell import down, figure
from baskwell.science.dosing.wanted import WantedDose, read_wanted
from baskwell.science.history.diet_recall import DietRecall

MOST_TOLD = 4
Held = Mapping[str, float]
Allowances = tuple[Allowance, ...]
Aim = tuple[float | None, tuple[str, ...]]  # units of product, and how they were reckoned


def plan_dose(  # noqa: PLR0913 - case, evidence and the three arguments of every draw come with the question
    case: Case,
    evidence: Evidence,
    agent: str,
    product_strength: str,
    wanted: str | None = None,
    *,
    diet: DietRecall | None,
    rng: np.random.Generator,
    n_draws: int,
    now: dt.datetime,
    giving: Giving | None = None,
) -> DosePlan:
    """Plan one repeated dose of an agent, or refuse it with the arithmetic.

    ``agent``: an id, name or alias of ``agents.csv``; ``product_strength`` as printed ("8000 IU per
    capsule"); ``wanted`` one dose as it is meant ("1 capsule", "500 IU"), None = what is proposed.
    ``giving``: route, days between doses (7), and the veterinarian behind an order, which lifts warnings,
    never blocks. What only a veterinarian may order is at most recorded. ``diet`` is recalled with the same
    ``n_draws``. Raises KeeperError for an agent the evidence does not know.

    >>> from baskwell.evidence import load_evidence
    >>> from baskwell.science.case.model import Animal, DietItem, History
    >>> from baskwell.science.case.span import Span
    >>> from baskwell.science.history.diet_recall import recall_diet
    >>> fern = Animal("terrapene_ornata", name="Fern", mass_g=Span.exactly(400))
    >>> case = Case(fern, History(diet=(DietItem("earthworm_nightcrawler"),)))
    >>> diet = recall_diet(case, load_evidence(), np.random.default_rng(1), 200, {})
    >>> plan = plan_dose(case, load_evidence(), "vitamin_a", "10000 IU per capsule", "1 capsule", diet=diet,
    ...     rng=np.random.default_rng(1), n_draws=200, now=dt.datetime(2026, 3, 16))
    >>> plan.verdict, plan.recipe, plan.sentences[0]
    ('refused', None, '10,000 IU retinol for 0.392 kg is 25,500 IU retinol per kg in one dose.')
    """
    found = agent_named(agent, evidence)
    setting = set_up(case, evidence, diet=diet, rng=rng, n_draws=n_draws, now=now)
    asked = Asked(found, setting, keep_book(setting), giving or Giving())
    if setting.mass is None:
        return asked.plan(
            "asks", "No dose without a mass.", NO_MASS, asks=("What does it weigh today, in grams?",)
        )
    try:
        wish = read_wanted(wanted) if wanted is not None else None
        if found.prescription_only or found.kind == "drug" or asked.giving.is_injected:
            return _only_ordered(asked, product_strength, wish)
        return _by_keeper(asked, product_strength, wish)
    except StrengthError as error:
        return asked.plan("asks", "No dose as long as this is not clear.", asks=(str(error),))


def _only_ordered(asked: Asked, strength: str, wish: WantedDose | None) -> DosePlan:
    """Refused without a name; recorded with one, within the blocks."""
    name, vet = asked.agent.name, asked.giving.ordered_by.strip()
    if not asked.giving.is_ordered:
        how = "injections are" if asked.giving.is_injected else f"{name} is"
        why = (
            f"No {name} by {asked.giving.route} route: {how} for a veterinarian to order, and none is named."
        )
        ask = "Which veterinarian ordered it? Write the name, the dose and the date of the order."
        return asked.plan("refused", why, *_limit_words(asked), asks=(ask,))
    recorded = (
        f"{name} by {asked.giving.route} route is recorded as ordered by {vet}; no recipe is given for it."
    )
    if not substances_of(asked.agent):
        return asked.plan(
            "recorded", recorded, "The evidence holds no limit on it to check the amount against."
        )
    if wish is None:
        return asked.plan(
            "recorded", recorded, "The amount is not stated, so it was not checked. Write it down too."
        )
    holds = held_by(wish, ordered_product(asked, strength, wish))
    allowances = _allowances(asked, holds, once=True)
    over = _over(asked, holds, allowances)
    if over:
        confirm = f"Confirm unit and mass with {vet} before anything is given."
        return asked.plan("refused", *over, confirm, allowances=allowances)
    checked = "The amount is below the blocks." if allowances else "The evidence holds no block on it."
    return asked.plan("recorded", recorded, checked, allowances=allowances)


def _limit_words(asked: Asked) -> tuple[str, ...]:
    """The limit on injections, where the evidence has one of this agent."""
    limit = asked.setting.evidence.limits["va_injection"]
    concerns = asked.giving.is_injected and any(s.nutrient == "vitamin_A" for s in substances_of(asked.agent))
    return (f"{limit.limit_id}: {limit.applies_to}; {limit.reason} ({limit.source}).",) if concerns else ()


def _by_keeper(asked: Asked, strength: str, wish: WantedDose | None) -> DosePlan:
    in_the_way = hindered(asked)
    if in_the_way is not None:
        return in_the_way
    product = product_of(asked, strength)
    lit = no_d3_by_default(asked, product.holds) if wish is None else ""
    if lit:
        return asked.plan("refused", lit)
    allowances = _allowances(asked, product.holds)
    limited = {
        n: a for n, a in product.holds.items() if a > 0 and any(one.nutrient == n for one in allowances)
    }
    open_ended = [SUBSTANCES[n].name for n, a in product.holds.items() if a > 0 and n not in limited]
    if not limited:
        names = " and ".join(open_ended)
        why = f"No limit on {names} for this animal is in the evidence, so no dose can be reckoned."
        return asked.plan("refused", why, BY_VET)
    if wish is not None:
        holds = held_by(wish, product)
        over = _over(asked, holds, allowances)
        if over:
            return asked.plan("refused", *over, _at_most(allowances), allowances=allowances)
        return _measured(asked, product, limited, (_wished_units(wish, limited, product), ()), allowances)
    return _measured(asked, product, limited, _proposed_units(asked, limited), allowances)


def _allowances(asked: Asked, holds: Held, *, once: bool = False) -> Allowances:
    every, ordered = asked.giving.every_days, asked.giving.is_ordered
    found = [
        one
        for nutrient, amount in holds.items()
        if amount > 0
        for one in allowances_for(asked.setting, nutrient, every, ordered=ordered, once=once)
    ]
    return tuple(sorted(found, key=lambda one: one.most))


def _over(asked: Asked, holds: Held, allowances: Allowances) -> tuple[str, ...]:
    """The arithmetic of the limits that a dose would pass, blocks first; empty where it passes none."""
    mass = asked.setting.mass
    passed = [one for one in allowances if holds[one.nutrient] > one.most]
    if mass is None or not passed:
        return ()
    kilograms = mass.least_kg
    told = []
    for nutrient in dict.fromkeys(one.nutrient for one in passed):
        unit, amount = SUBSTANCES[nutrient].unit, holds[nutrient]
        per_kg = f"{figure(amount / kilograms)} {unit} per kg in one dose"
        told.append(f"{figure(amount)} {unit} for {figure(kilograms)} kg is {per_kg}.")
    told.append(f"The mass ({mass.words}) is taken at its low end, less what the scale may be off.")
    first = {one.evidence_id: one for one in reversed(passed)}
    shown = sorted(first.values(), key=lambda one: (one.kind != "block", one.most))
    told += [f"That is more than allowed. {one.sentence}" for one in shown[:MOST_TOLD]]
    more = len(shown) - MOST_TOLD
    return (*told, *([f"Further limits that it passes: {more}."] if more > 0 else []))


def _at_most(allowances: Allowances) -> str:
    least = allowances[0]
    if least.most <= 0:
        return f"Nothing more of it may be added: {least.evidence_id} leaves no room."
    unit = SUBSTANCES[least.nutrient].unit
    return f"The most that may be given at a time is {down(least.most)} {unit} ({least.evidence_id})."


def _wished_units(wish: WantedDose, limited: Held, product: Product) -> float:
    """Units of product in the dose as it is meant."""
    holds = held_by(wish, product)
    return min(holds[nutrient] / amount for nutrient, amount in limited.items())


def _proposed_units(asked: Asked, limited: Held) -> Aim:
    """Units of product that the default rows propose, the least of all contents, and how."""
    aims = {n: proposed(asked.setting, n, asked.giving.every_days) for n in limited}
    known = [(aim.amount / limited[n], aim.sentence) for n, aim in aims.items() if aim is not None]
    least = min(known, default=None)
    return (None, ()) if least is None else (least[0], (least[1],))


def _measured(asked: Asked, product: Product, limited: Held, aim: Aim, allowances: Allowances) -> DosePlan:
    target, reckoned = aim
    if target is None:
        ask = f"How much {asked.agent.name} is meant, as an amount or in {product.unit}?"
        return asked.plan("asks", "No dose of it is proposed by default.", asks=(ask,), allowances=allowances)
    room = min(one.most / limited[one.nutrient] for one in allowances)
    recipe = recipe_for(product, room, target, asked.giving.every_days, asked.setting.evidence)
    told = (*reckoned, allowances[0].sentence)
    if recipe is not None:
        return asked.plan("recipe", *recipe.steps, *told, allowances=allowances, recipe=recipe)
    if room <= 0:
        told = (allowances[0].sentence, *_reason(asked, allowances[0]))
    why = _nothing(asked, product, min(room, target))
    return asked.plan("refused", why, *told, allowances=allowances)


def _nothing(asked: Asked, product: Product, units: float) -> str:
    """Why there is no recipe: no room, or too little to measure."""
    if units <= 0:
        return f"No {asked.agent.name} is to be added."
    least = figure(least_units(product, asked.setting.evidence))
    return (
        f"The {down(units)} {product.unit} that would be right is less than can be measured, even diluted "
        f"(about {least} {product.unit}). Use a weaker product."
    )


def _reason(asked: Asked, strictest: Allowance) -> tuple[str, ...]:
    """Why the strictest limit stands, where it is one of the cautious limits."""
    limit = asked.setting.evidence.limits.get(strictest.evidence_id)
    return (f"{limit.reason[0].upper()}{limit.reason[1:]}.",) if limit is not None and limit.reason else ()
