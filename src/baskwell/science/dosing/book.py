"""The ledger: what was had of each substance, against every limit on its own basis."""

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np

from baskwell.evidence import Evidence
from baskwell.science.case.model import Case
from baskwell.science.dosing.body import BodyMass, body_mass
from baskwell.science.dosing.ceilings import Ceiling, ceilings_for
from baskwell.science.dosing.given import INJECTED, Given, all_given, entries_of, is_named
from baskwell.science.dosing.pieces import supplement_doses
from baskwell.science.dosing.result import Account, Entry, Ledger, LimitCheck
from baskwell.science.dosing.substances import SUBSTANCES, Substance
from baskwell.science.dosing.supplied import eaten_dry_kg, supplied, total
from baskwell.science.dosing.tell import chance_over, figure, standing
from baskwell.science.draws import Draws, summarise
from baskwell.science.history.diet_recall import DietRecall

LONGEST = 30.0  # days: the longest window; what was given before is history, not an alarm
RECOMMENDED = "default_limit"  # what a supplement may reach; more of it from food is no finding
NO_MASS = "What it weighs is not told, so nothing per kilogram can be reckoned. Weigh it first."
NO_DIET = "What it is fed is not told, so liver, oils, supplements and fortified feed could not be counted."


@dataclass(frozen=True)
class Setting:
    """All that a reckoning rests on; draws have shape ``(n_draws,)``."""

    case: Case
    evidence: Evidence
    diet: DietRecall | None
    mass: BodyMass | None
    given: tuple[Given, ...]
    dry_kg: Draws | None = field(repr=False)
    n_draws: int


def set_up(
    case: Case,
    evidence: Evidence,
    *,
    diet: DietRecall | None,
    rng: np.random.Generator,
    n_draws: int,
    now: dt.datetime,
) -> Setting:
    """Bring together what ledger and plan share. ``n_draws`` must be that of ``diet``."""
    mass = body_mass(case, evidence, rng, n_draws, now)
    dry = eaten_dry_kg(diet) if diet is not None else None
    return Setting(case, evidence, diet, mass, all_given(case, evidence, now), dry, n_draws)


def ledger(
    case: Case,
    evidence: Evidence,
    *,
    diet: DietRecall | None,
    rng: np.random.Generator,
    n_draws: int,
    now: dt.datetime,
) -> Ledger:
    """What the animal had of each substance that limits speak of, until ``now``.

    Food and supplements come from ``diet`` (recalled with the same ``n_draws``), doses and drugs from the
    days and treatments of the case. An unknown amount or time counts as possible, never as nothing.

    >>> from baskwell.evidence import load_evidence
    >>> from baskwell.science.case.model import Animal, Days, DoseGiven
    >>> from baskwell.science.case.span import Span
    >>> now = dt.datetime(2026, 3, 16, 9)
    >>> dose = DoseGiven(dt.datetime(2026, 3, 15, 9), "vitamin_a", "oral", Span.exactly(10_000))
    >>> case = Case(Animal("terrapene_ornata", mass_g=Span.exactly(400)), days=Days(doses=(dose,)))
    >>> book = ledger(case, load_evidence(), diet=None, rng=np.random.default_rng(1), n_draws=200, now=now)
    >>> check = book.of("vitamin_A").checks[0]
    >>> check.evidence_id, check.standing, round(check.got.median, -3)       # 10,000 IU / 0.4 kg
    ('va_single_block_turtle', 'over', 25000.0)
    """
    return keep_book(set_up(case, evidence, diet=diet, rng=rng, n_draws=n_draws, now=now))


def keep_book(setting: Setting) -> Ledger:
    """The ledger of a setting."""
    accounts = tuple(_account(setting, substance) for substance in SUBSTANCES.values())
    drugs, alarms = _drugs(setting)
    blocked = [c for a in accounts for c in a.checks if c.standing == "over" and c.kind == "block"]
    over = {c.evidence_id: c.sentence for c in reversed(blocked)}
    gaps = [*([NO_MASS] if setting.mass is None else []), *([NO_DIET] if setting.diet is None else [])]
    gaps += [
        f"{one.words}: not known to the evidence, so what it held was not counted."
        for one in setting.given
        if not one.agents
    ]
    return Ledger(accounts, drugs, (*reversed(over.values()), *alarms), tuple(dict.fromkeys(gaps)))


def entries_for(setting: Setting, substance: Substance) -> tuple[Entry, ...]:
    """The lines of one substance: food, supplements, doses, treatments."""
    fed = supplied(setting.diet, substance) if setting.diet is not None else ()
    return (*fed, *entries_of(setting.given, substance.nutrient))


def had_in(entries: tuple[Entry, ...], counts: str, days: float) -> float:
    """What was given at once in the last ``days``; what has no time is counted, what has no amount is not."""
    return sum(
        (entry.amount or 0.0) * entry.times
        for entry in entries
        if entry.per_day is None and counts in entry.counts and is_within(entry, days)
    )


def is_within(entry: Entry, days: float) -> bool:
    """Whether something given may lie within the last ``days``."""
    return entry.days_ago is None or entry.days_ago < days


def _account(setting: Setting, substance: Substance) -> Account:
    entries = entries_for(setting, substance)
    ceilings = ceilings_for(setting.evidence, setting.case.animal, substance.nutrient)
    limits = [ceiling for ceiling in ceilings if ceiling.kind != RECOMMENDED]
    checks = tuple(check for ceiling in limits for check in _checks(setting, entries, ceiling))
    asks = tuple(
        f"How much {substance.name} did {entry.name} hold, and when was it given?"
        for entry in entries
        if not entry.known and is_within(entry, LONGEST)
    )
    return Account(
        substance.nutrient, substance.name, substance.unit, entries, checks, tuple(dict.fromkeys(asks))
    )


def _checks(setting: Setting, entries: tuple[Entry, ...], ceiling: Ceiling) -> Iterator[LimitCheck]:
    counts = ceiling.rule.counts
    if ceiling.rule.basis == "diet_dm":
        if setting.dry_kg is not None:
            fed = total(entries, counts, setting.n_draws) / setting.dry_kg
            yield _check(ceiling, fed, ceiling.value, None)
        return
    if setting.mass is None:
        return
    if ceiling.rule.basis == "single":
        for dose in _single_doses(setting, entries, ceiling.rule.nutrient):
            yield _check(ceiling, dose / setting.mass.kg, ceiling.value, None)
        return
    for days in ceiling.windows:
        had = total(entries, counts, setting.n_draws) * days + had_in(entries, counts, days)
        yield _check(ceiling, had / setting.mass.kg, ceiling.over(days), days)


def _single_doses(setting: Setting, entries: tuple[Entry, ...], nutrient: str) -> Iterator[Draws]:
    """The largest dose of the last 30 days, and one dose of each supplement where that can be told."""
    amounts = [entry.amount for entry in entries if entry.amount is not None and is_within(entry, LONGEST)]
    if amounts:
        yield np.full(setting.n_draws, max(amounts))
    if setting.diet is not None:
        yield from supplement_doses(setting.case, setting.diet, entries, nutrient, setting.n_draws)


def _check(ceiling: Ceiling, draws: Draws, limit: float, days: float | None) -> LimitCheck:
    got, chance = summarise(draws), chance_over(draws, limit)
    name = SUBSTANCES[ceiling.rule.nutrient].name
    stands = standing(chance)
    window = f" in {days:g} days" if days is not None else ""
    unit = (
        ceiling.unit if days is None else f"{SUBSTANCES[ceiling.rule.nutrient].unit} per kg of animal{window}"
    )
    words = {
        "within": "is within",
        "may be over": "may be over",
        "over": "is over",
        "not known": "is not known against",
    }
    sentence = (
        f"{name[0].upper()}{name[1:]}: {figure(got.median)} ({figure(got.low)}-{figure(got.high)}) {unit} "
        f"{words[stands]} the limit of {figure(limit)} ({ceiling.rule.evidence_id})."
    )
    return LimitCheck(
        ceiling.rule.evidence_id,
        ceiling.kind,
        limit,
        unit,
        days,
        ceiling.said_by,
        got,
        chance,
        stands,
        sentence,
    )


def _drugs(setting: Setting) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What only a veterinarian may order, and which of it has no named order."""
    told, alarms = [], []
    for one in setting.given:
        if not one.needs_order:
            continue
        by = one.ordered_by if one.ordered_by else "nobody named"
        how = f", {one.route}" if one.route else ""
        notes = "; ".join(agent.note for agent in one.agents if agent.note and agent.kind == "drug")
        told.append(f"{one.words}{how}, ordered by {by}{f' ({notes})' if notes else ''}.")
        if one.origin == "dose" and not is_named(one.ordered_by):
            what = "an injection" if one.route in INJECTED else "prescription-only"
            alarms.append(
                f"{one.words}{how} was given here and no veterinarian who ordered it is named; it is {what}. "
                "Ask the veterinarian now, and write the name into ordered_by."
            )
    return tuple(told), tuple(alarms)
