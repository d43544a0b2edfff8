"""The facts behind a belief in plain words."""

from collections.abc import Iterable

from baskwell.science.case.model import Event, Treatment, When
from baskwell.science.case.span import Span
from baskwell.science.draws import Draws, summarise
from baskwell.science.history.diet_recall.sentences import figure
from baskwell.science.history.exposures.facts import Facts
from baskwell.science.history.exposures.words import plain

ROUTES = {"sc": "injection", "im": "injection", "iv": "injection", "icoelomic": "injection", "oral": "mouth"}
EVENT_WORDS = {
    "attack": "an attack",
    "fall": "a fall",
    "crush": "a crush",
    "hook": "a hook",
    "escape": "an escape",
    "chilling": "a chilling",
    "chemical": "contact with a chemical",
    "toxin": "a poison",
    "move": "a move",
    "burn": "a burn",
}


def told(facts: Facts, *finding_ids: str) -> str:
    """The findings named, each with its median and 90 % interval, as one sentence.

    ``Got: calcium to phosphorus 0.9 (0.6 to 1.4); protein 21 % of dry matter (17 to 26).``
    """
    return "Got: " + "; ".join(_finding(facts, name) for name in finding_ids) + "."


def _finding(facts: Facts, finding_id: str) -> str:
    finding = facts.findings[finding_id]
    if finding.got is None:
        return f"{finding.name} not known"
    got, unit = finding.got, f" {finding.unit}" if finding.unit else ""
    middle = f"{finding.name} {figure(got.median)}{unit}"
    spread = "" if got.low == got.high else f" ({figure(got.low)} to {figure(got.high)})"
    return middle + spread


def share_in_words(what: str, share: Draws) -> str:
    """A share of the diet as one sentence.

    >>> import numpy as np
    >>> share_in_words("fruit", np.linspace(0.0, 0.2, 101))
    'Of the foods told of, fruit made up about 10 % (1 to 19 %).'
    """
    got = summarise(100.0 * share)
    low, median, high = (figure(round(value)) for value in (got.low, got.median, got.high))
    spread = "" if low == high else f" ({low} to {high} %)"
    return f"Of the foods told of, {what} made up about {median} %{spread}."


def number(span: Span) -> str:
    """A stated number or range in words.

    >>> number(Span.exactly(3.0)), number(Span(2.0, 4.5)), number(Span(20.0, None)), number(Span(None, 8.0))
    ('3', '2 to 4.5', 'over 20', 'up to 8')
    """
    if span.low is None:
        return f"up to {span.high:g}"
    if span.high is None:
        return f"over {span.low:g}"
    return f"{span.low:g}" if span.low == span.high else f"{span.low:g} to {span.high:g}"


def time_before(when: When) -> str:
    """When something was, as it was told; "at a time not told" where it was not.

    >>> time_before(When(weeks_before=Span.exactly(3.0)))
    '3 weeks before'
    """
    for stated, unit in (
        (when.days_before, "days"),
        (when.weeks_before, "weeks"),
        (when.months_before, "months"),
    ):
        if stated is not None:
            return f"{number(stated)} {unit} before"
    if when.date is not None:
        return f"on {when.date:%-d %B %Y}"
    if when.from_ is not None or when.to is not None:
        start, end = (f"{day:%-d %B %Y}" if day else "" for day in (when.from_, when.to))
        return " ".join(filter(None, (f"from {start}" if start else "", f"to {end}" if end else "")))
    return "at a time not told"


def happened(events: Iterable[Event]) -> str:
    """What is told of some events, as one sentence.

    >>> happened([Event(kind="fall", weeks_before=Span.exactly(3.0)), Event(kind="hook")])
    'Told of: a fall, 3 weeks before; a hook, at a time not told.'
    """
    parts = [f"{EVENT_WORDS.get(event.kind or '', 'something')}, {time_before(event)}" for event in events]
    return "Told of: " + "; ".join(parts) + "."


def given(facts: Facts, treatment: Treatment) -> str:
    """What was given, by which route and when: ``vitamin A (retinol) by injection, 2 months before``."""
    known = facts.evidence.agents.get(plain(treatment.agent).replace(" ", "_"))
    agent = known.name if known is not None else treatment.agent.replace("_", " ").strip()
    if agent in ("", "unknown"):
        agent = "something without a name"
    route = ROUTES.get(treatment.route or "", treatment.route)
    return f"{agent}{f' by {route}' if route else ''}, {time_before(treatment)}"
