"""Feeding again after a long fast: energy day by day and volume a feed, under the blocks of limits.csv."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from baskwell.evidence import Evidence
from baskwell.evidence.lookup import cover_reaches, covers, limits_for
from baskwell.evidence.rows.safety import Limit

FIRST_DAYS, WEEK = 2, 7  # of the rows refeed_start_* and refeed_week1_block
_OF = re.compile(r"fraction of ([\d.]+)\*kg\^([\d.]+) kcal/day")
_EARLY, _LATER = "start volume days 1-3", "volume from day 4"


@dataclass(frozen=True, slots=True)
class RefeedDay:
    """One day: energy in kcal from ``low`` to ``high``, never above ``block``; volume in mL.

    ``feeds`` of at most ``ml_per_feed`` bring the low energy where the food's density allows, else
    less: ``kcal_given`` is what they bring.
    """

    day: int
    low_kcal: float
    high_kcal: float
    block_kcal: float
    feeds: int
    ml_per_feed: float
    kcal_given: float


@dataclass(frozen=True, slots=True)
class Refeeding:
    """A plan for a veterinarian to agree to. Empty ``days``: none can be made, ``sentences`` say why."""

    days: tuple[RefeedDay, ...]
    sentences: tuple[str, ...]
    evidence_ids: tuple[str, ...]


def energy_of(limit: Limit, kg: float) -> float:
    """The energy in kcal a day that a refeeding row means for a mass in kg above zero.

    Raises ValueError for a row of another unit.

    >>> from baskwell.evidence import load_evidence
    >>> round(energy_of(load_evidence().limits["refeed_week1_block"], 1.0), 2)   # 0.4 x 32
    12.8
    """
    found = _OF.search(limit.unit)
    if found is None or limit.value is None:
        raise ValueError(f"Row {limit.limit_id} is no share of an energy need: '{limit.unit}'.")
    share, power = float(found.group(1)), float(found.group(2))
    return float(limit.value * share * kg**power)


def refeeding_plan(
    mass_g: float | None, kcal_per_ml: float | None, evidence: Evidence, taxon_id: str
) -> Refeeding:
    """The first week: the low start for two days, then evenly up to 10 x kg^0.75 kcal a day.

    ``mass_g`` is the least the animal may weigh; ``kcal_per_ml`` the energy of the mixed food (1 mL taken
    as 1 g). Missing, zero or infinite: no plan. Volumes stay under every volume limit of the taxon.

    >>> from baskwell.evidence import load_evidence
    >>> plan = refeeding_plan(1000.0, 1.0, load_evidence(), "testudo_graeca")
    >>> [round(day.low_kcal, 1) for day in plan.days]
    [2.5, 2.5, 4.0, 5.5, 7.0, 8.5, 10.0]
    """
    for told, name in ((mass_g, "mass of the animal"), (kcal_per_ml, "energy of the mixed food")):
        if told is None or not 0 < told < float("inf"):
            return Refeeding((), (f"No plan without the {name}, above zero: nothing is guessed here.",), ())
    grams, density = float(mass_g or 0.0), float(kcal_per_ml or 0.0)
    limits = limits_for(evidence, taxon_id, "refeeding")
    volumes = limits_for(evidence, taxon_id, "assisted_feeding")
    days = tuple(_day(day, grams, density, evidence, taxon_id, limits, volumes) for day in range(1, WEEK + 1))
    ids = tuple(limit.limit_id for limit in (*limits, *volumes))
    return Refeeding(days, tuple(_sentences(evidence, taxon_id, volumes)), ids)


def _day(
    day: int,
    grams: float,
    density: float,
    evidence: Evidence,
    taxon_id: str,
    limits: tuple[Limit, ...],
    volumes: tuple[Limit, ...],
) -> RefeedDay:
    low, high, block = _energies(day, grams / 1000, evidence, limits)
    each = _ml_per_feed(grams, volumes)
    snake = cover_reaches(evidence, "clade:snake", taxon_id)
    most_feeds = int(evidence.feeding.choice("feeds_a_day_snake" if snake else "feeds_a_day"))
    in_day = min(_ml_per_day(day, grams, evidence, taxon_id), each * most_feeds)
    wanted = min(low / density, in_day)
    feeds = min(most_feeds, max(1, -int(-wanted // each))) if each > 0 else 0
    per_feed = min(wanted / feeds, each) if feeds else 0.0
    return RefeedDay(day, low, high, block, feeds, per_feed, per_feed * feeds * density)


def _energies(
    day: int, kg: float, evidence: Evidence, limits: tuple[Limit, ...]
) -> tuple[float, float, float]:
    """Low, high and block: each start row rises evenly to full need; nothing passes the block."""
    rows = {limit.kind: limit for limit in limits}
    block = energy_of(rows["block"], kg)
    full_day = evidence.feeding.choice("refeed_full_day")
    done = min(max((day - FIRST_DAYS) / (full_day - FIRST_DAYS), 0.0), 1.0)
    starts = (rows["default_low"], rows["default_high"])
    low, high = (_rising(energy_of(row, kg), row, done) for row in starts)
    return min(low, block), min(high, block), block


def _rising(start: float, row: Limit, done: float) -> float:
    need = start / (row.value or 1.0)
    return start + done * (need - start)


def _ml_per_feed(grams: float, volumes: tuple[Limit, ...]) -> float:
    """The strictest volume of one feed; without one, none is proposed."""
    return min((grams * (row.value or 0.0) / 100 for row in volumes), default=0.0)


def _ml_per_day(day: int, grams: float, evidence: Evidence, taxon_id: str) -> float:
    wanted = _EARLY if day <= 3 else _LATER
    shares = (
        row.value_low
        for row in evidence.weaning
        if row.step_or_threshold == wanted and covers(evidence, row.taxon, taxon_id)
    )
    return min((grams * share / 100 for share in shares if share is not None), default=float("inf"))


def _sentences(evidence: Evidence, taxon_id: str, volumes: tuple[Limit, ...]) -> Iterator[str]:
    yield "A plan to agree on with a veterinarian before the first feed: a tube in wrong hands kills."
    for row in evidence.weaning:
        if row.kind in ("precondition", "refeeding risk") and covers(evidence, row.taxon, taxon_id):
            yield f"{row.step_or_threshold}: {row.action} ({row.row_id}, {row.source_id})."
    if not volumes:
        yield "No volume of one feed is stated for this kind: ask the veterinarian."
    for limit in volumes:
        if limit.kind == "block" and cover_reaches(evidence, limit.covers, taxon_id):
            yield f"Never above {limit.value:g} {limit.unit} in {limit.applies_to} ({limit.limit_id})."
