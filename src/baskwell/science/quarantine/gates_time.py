"""Gates of time and records: days, newcomers, meals, faeces, weight."""

import datetime as dt
from collections.abc import Sequence

import numpy as np

from baskwell.evidence.covers import covers
from baskwell.evidence.rows.clinical_records import QuarantineFact
from baskwell.science.case.model import Faeces, Meal
from baskwell.science.quarantine.result import Gate, State
from baskwell.science.quarantine.stay import Stay, counted, known


def gate(stay: Stay, gate_id: str, name: str, state: State, words: tuple[str, str], fact_id: str) -> Gate:
    """A gate with the source of its row; ``words``: what is known, and what would meet it."""
    meet = "" if state == "met" else words[1]
    return Gate(gate_id, name, state, words[0], meet, fact_id, stay.fact(fact_id).source)


def days_gate(stay: Stay) -> Gate:
    """The longest of the stated durations that cover the animal must have passed."""
    row = duration_of(stay)
    needed = row.value or 0.0
    name = "Days in quarantine"
    if stay.since is None:
        words = ("Since when it is here is not known.", f"Write the day it came; {needed:g} days are needed.")
        return gate(stay, "days", name, "not known", words, row.item_id)
    passed = (stay.today - stay.since).days
    end = stay.since + dt.timedelta(days=needed)
    least = "at least " if stay.at_least else ""
    known_words = f"{least}{counted(passed, 'day')} of {needed:g}, counted from {stay.why} ({stay.since})."
    state: State = "met" if passed >= needed else "not known" if stay.at_least else "not met"
    ask = " Write the day it came, if it was earlier." if stay.at_least else ""
    meet = f"{counted(needed - passed, 'day')} more, on {end}.{ask}"
    return gate(stay, "days", name, state, (known_words[0].upper() + known_words[1:], meet), row.item_id)


def duration_of(stay: Stay) -> QuarantineFact:
    """The longest duration of ``quarantine.csv`` whose taxon text covers the animal."""
    taxon = stay.case.animal.taxon
    rows = [
        row
        for row in stay.evidence.quarantine.values()
        if row.kind == "duration" and row.value and covers(stay.evidence, row.taxon, taxon)
    ]
    return max(rows, key=lambda row: row.value or 0.0)


def newcomer_gate(stay: Stay, newcomers: Sequence[dt.date] | None) -> Gate:
    """No animal came into the same air since; what nobody said is not known."""
    name, fact_id = "No newcomer in the same air", "dur_restart"
    meet = "Say whether any animal came into the same room since, and when."
    if newcomers is None or stay.since is None:
        words = ("Whether another animal came into the same air is not known.", meet)
        return gate(stay, "newcomers", name, "not known", words, fact_id)
    later = [day for day in newcomers if stay.since < day <= stay.today]
    if not later:
        return gate(stay, "newcomers", name, "met", ("No animal came into the same air since.", ""), fact_id)
    needed = duration_of(stay).value or 0.0
    end = max(later) + dt.timedelta(days=needed)
    words = (f"An animal came into the same air on {max(later)}: the clock starts again.", f"{end} at best.")
    return gate(stay, "newcomers", name, "met" if end <= stay.today else "not met", words, fact_id)


def eaten_share(meal: Meal) -> float | None:
    """Share of an offer that was eaten, drying taken off; None where it cannot be known.

    >>> from baskwell.science.case.span import Span
    >>> eaten_share(Meal(offered_g=Span.exactly(10), left_g=Span.exactly(4)))
    0.6
    """
    offered, left = known(meal.offered_g), known(meal.left_g)
    if offered is None or left is None or offered <= 0:
        return None
    dried = (known(meal.control_loss_pct) or 0.0) / 100.0
    would_be = offered * (1.0 - dried)
    return float(np.clip(1.0 - left / would_be, 0.0, 1.0)) if would_be > 0 else None


def meals_gate(stay: Stay) -> Gate:
    """It ate its offers of its own accord over the whole window."""
    window = stay.choice("meal_window")
    first = stay.now - dt.timedelta(days=window)
    meals = [m for m in stay.case.days.meals if m.at is not None and first <= m.at <= stay.now]
    shares = [eaten_share(meal) for meal in meals]
    refused = sum(share is not None and share < stay.choice("eaten_share") for share in shares)
    unknown = sum(share is None for share in shares)
    ate = len(shares) - refused - unknown
    earlier = any(m.at is not None and m.at <= first for m in stay.case.days.meals)
    enough = ate >= stay.choice("meals_in_window") and not unknown and earlier
    state: State = "not met" if refused else "met" if enough else "not known"
    seen = f"{ate} of {counted(len(shares), 'offer')} eaten in the last {window:g} days"
    open_ = f", {unknown} without offered and left in grams" if unknown else ""
    meet = f"Record what is offered and left over {window:g} days; at least half of each offer is eaten."
    words = f"{seen}{open_}." if meals else f"No offer of the last {window:g} days is on record."
    return gate(stay, "meals", "Eats of its own accord", state, (words, meet), "clear_2")


def faeces_gate(stay: Stay) -> Gate:
    """The last passages were all formed."""
    needed = int(stay.choice("normal_faeces"))
    passed = [f for f in stay.case.days.faeces if f.at is not None and f.at <= stay.now]
    last = sorted(passed, key=lambda f: f.at or stay.now)[-needed:]
    normal = [_formed(f) for f in last]
    if False in normal:
        state: State = "not met"
    else:
        state = "met" if len(last) == needed and all(normal) else "not known"
    formed = f"{sum(f is True for f in normal)} of the last {counted(len(last), 'passage')} formed."
    words = formed if last else "No passage is on record."
    meet = f"{needed} formed passages in a row; look at the urates too, the record has no place for them."
    return gate(stay, "faeces", "Normal faeces", state, (words, meet), "clear_3")


def _formed(faeces: Faeces) -> bool | None:
    if faeces.undigested:
        return False
    return None if faeces.score is None else faeces.score == 3
