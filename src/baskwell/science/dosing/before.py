"""What has to be known, or to pass, before any dose of a keeper's own."""

from collections.abc import Mapping

from baskwell.science.dosing.asked import Asked
from baskwell.science.dosing.book import LONGEST, NO_DIET, entries_for, is_within
from baskwell.science.dosing.result import DosePlan
from baskwell.science.dosing.substances import substances_of

FEED_GROUPS = ("complete_feed", "pet_food")
SOME_FEED = 0.03  # share of the dry matter from which a fortified feed is more than a trace
BY_VET = "A veterinarian may order one."


def hindered(asked: Asked) -> DosePlan | None:
    """The answer where no dose can be planned yet, or at all; None where nothing stands in its way."""
    substances = substances_of(asked.agent)
    if asked.giving.route != "oral":
        return asked.plan(
            "refused", f"Only what is given in food is planned here, not by {asked.giving.route}.", BY_VET
        )
    if not substances:
        why = f"No limit on {asked.agent.name} is in the evidence, so no dose of it can be reckoned."
        return asked.plan("refused", why, BY_VET)
    if asked.setting.diet is None:
        ask = "What is it fed, and which supplements does it get? Write it into the case file."
        return asked.plan("asks", NO_DIET, asks=(ask,))
    return _amounts_open(asked) or _too_soon(asked) or _fed_enough(asked)


def _amounts_open(asked: Asked) -> DosePlan | None:
    asks = [ask for s in substances_of(asked.agent) for ask in asked.book.of(s.nutrient).asks]
    asks += _unnamed(asked)
    if not asks:
        return None
    why = (
        "Within 30 days something was given of which the amount is not known; it may have used up the limit."
    )
    return asked.plan("asks", why, asks=tuple(asks))


def _unnamed(asked: Asked) -> list[str]:
    """What was given lately, or goes on, without anybody knowing what it is."""
    setting = asked.setting
    lately = [one for one in setting.given if one.days_ago is None or one.days_ago < LONGEST]
    words = [one.words for one in lately if all(agent.kind == "unknown" for agent in one.agents)]
    agents = setting.evidence.agents
    for row in setting.case.history.supplements:
        kind = agents[row.agent].kind if row.agent in agents else ""
        stopped = row.stopped_months_ago is not None and (row.stopped_months_ago.low or 0.0) > 0
        never = row.days_per_week is not None and row.days_per_week.high == 0
        if kind == "unknown" and not stopped and not never:
            words.append(agents[row.agent].name)
    return [f"What exactly is {word!r}, and what is printed on it?" for word in dict.fromkeys(words)]


def _too_soon(asked: Asked) -> DosePlan | None:
    """The least interval: a dose counts as given until ``every_days`` have passed."""
    every = asked.giving.every_days
    for substance in substances_of(asked.agent):
        for entry in entries_for(asked.setting, substance):
            if entry.per_day is None and is_within(entry, float(every)):
                ago = "at a time not told" if entry.days_ago is None else f"{entry.days_ago:.1f} days ago"
                wait = every - (entry.days_ago or 0.0)
                due = f"of doses {every} days apart the next is due in {wait:.1f} days"
                return asked.plan("refused", f"{entry.name} was given {ago}; {due}.")
    return None


def _fed_enough(asked: Asked) -> DosePlan | None:
    """No vitamin D3 on top of a fortified feed (limits.csv, d3_warn), unless it is ordered."""
    diet = asked.setting.diet
    holds_d3 = any(s.nutrient == "vitamin_D3" for s in substances_of(asked.agent))
    if not holds_d3 or asked.giving.is_ordered or diet is None:
        return None
    share = float(diet.share_of(lambda food: food.group in FEED_GROUPS).mean())
    if share <= SOME_FEED:
        return None
    why = asked.setting.evidence.limits["d3_warn"].reason
    told = f"About {share:.0%} of its food is a fortified feed, so no vitamin D3 is added (d3_warn: {why})."
    return asked.plan("refused", told)


def no_d3_by_default(asked: Asked, holds: Mapping[str, float]) -> str:
    """Why no vitamin D3 is proposed by default: a UV lamp or the sun is told of. Empty where it may be."""
    lamps = asked.setting.evidence.lamps
    lit = [
        lamps[light.kind].name for light in asked.setting.case.history.lights if lamps[light.kind].gives_uvb
    ]
    if not lit or holds.get("vitamin_D3", 0.0) <= 0 or asked.giving.is_ordered:
        return ""
    return (
        f"{lit[0]}: under good UV light no vitamin D3 is added by default (d3_warn). Put the light right; "
        "state an amount only where that cannot be done."
    )
