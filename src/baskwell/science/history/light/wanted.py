"""What UV index and day length an animal's kind is wanted to have, and who says so."""

from collections.abc import Sequence
from dataclasses import dataclass

from baskwell.evidence import Evidence
from baskwell.evidence.lookup import WantedRow, limits_for, uv_zone, wanted_environment
from baskwell.science.history.finding import Wanted
from baskwell.science.history.light.priors import Priors


@dataclass(frozen=True)
class WantedLight:
    """The wanted light of one taxon. None = no source gives it.

    ``at_back`` runs from the lower end of the zone's mean exposure to the cautious limit for the mean,
    or, where there is none, to the ceiling at the nearest point: the basking place under a lamp is the top of
    the animal's gradient. ``block_uvi`` may never be passed. ``optional``: UVB is used but not shown to be
    needed, so the range starts at nil. ``summer_h`` and ``winter_h`` are hours of light.
    """

    zone: int | None
    at_back: Wanted | None
    nearest: Wanted | None
    block_uvi: float | None
    optional: bool
    summer_h: Wanted | None
    winter_h: Wanted | None
    gaps: tuple[str, ...]


def wanted_light(priors: Priors, taxon_id: str) -> WantedLight:
    """Look up the wanted light of a taxon. Raises the lookup's ``UnknownKey`` for an unknown taxon.

    >>> from baskwell.evidence import load_evidence
    >>> light = wanted_light(Priors(load_evidence(), 1, 10), "terrapene_ornata")
    >>> light.zone, light.at_back.low, light.at_back.high, light.nearest.high, light.block_uvi
    (2, 0.7, 2.5, 2.5, 7.0)
    """
    evidence = priors.evidence
    zone = uv_zone(evidence, taxon_id)
    optional = bool(priors.words("uvb_optional") & set(evidence.taxa[taxon_id].tags))
    mean = _nearest_rows(evidence, taxon_id, "uv_index_average_exposure")
    near = _nearest_rows(evidence, taxon_id, "uv_index_basking")
    block = min(
        (limit.value for limit in limits_for(evidence, taxon_id, "uv_index", "block") if limit.value),
        default=None,
    )
    summer = _nearest_rows(evidence, taxon_id, "photoperiod_summer_h")
    winter = _nearest_rows(evidence, taxon_id, "photoperiod_winter_h")
    return WantedLight(
        zone=zone,
        at_back=_at_back(evidence, mean, near, optional),
        nearest=_ceiling(evidence, near, block),
        block_uvi=block,
        optional=optional,
        summer_h=_hours(summer),
        winter_h=_hours(winter),
        gaps=_gaps(evidence, taxon_id, mean, (*mean, *summer)),
    )


def _nearest_rows(evidence: Evidence, taxon_id: str, parameter: str) -> tuple[WantedRow, ...]:
    """The default row; for a higher name the default row of each species beneath it."""
    rows = wanted_environment(evidence, taxon_id, parameter)
    if not rows or rows[0].relation != "member":
        return rows[:1]
    first = {row.taxon_id: row for row in reversed(rows)}
    return tuple(reversed(first.values()))


def _at_back(
    evidence: Evidence, mean: Sequence[WantedRow], near: Sequence[WantedRow], optional: bool
) -> Wanted | None:
    lows = [row.low for row in mean if row.low is not None]
    limited = [row for row in mean if row.keys[0] in evidence.limits]
    highs = [row.high for row in (*limited, *near) if row.high is not None]
    if not lows:
        return None
    low = 0.0 if optional else min(lows)
    return _wanted((*mean, *near), low, min(highs, default=None))


def _ceiling(evidence: Evidence, near: Sequence[WantedRow], block: float | None) -> Wanted | None:
    highs = [row.high for row in near if row.high is not None]
    if highs:
        return _wanted(near, None, min(highs))
    if block is None:
        return None
    limit = next(one for one in evidence.limits.values() if one.topic == "uv_index" and one.kind == "block")
    return Wanted(None, block, "safety/limits.csv (judgement)", "judgement", (limit.limit_id,))


def _hours(rows: Sequence[WantedRow]) -> Wanted | None:
    lows = [row.low for row in rows if row.low is not None]
    highs = [row.high for row in rows if row.high is not None]
    return _wanted(rows, min(lows), max(highs)) if lows and highs else None


def _wanted(rows: Sequence[WantedRow], low: float | None, high: float | None) -> Wanted:
    sources = dict.fromkeys(source for row in rows for source in row.source_ids)
    said = "; ".join("safety/limits.csv (judgement)" if one == "JUDGEMENT" else one for one in sources)
    keys = tuple(dict.fromkeys(key for row in rows for key in row.keys))
    return Wanted(low, high, said, worst_grade([row.grade for row in rows]), keys)


def worst_grade(grades: Sequence[str]) -> str:
    """The weakest of evidence grades; a cautious limit counts as judgement.

    >>> worst_grade(["A", "C"]), worst_grade(["A", "judgement"])
    ('C', 'judgement')
    """
    return max(grades, key=lambda grade: (grade == "judgement", grade), default="judgement")


def _gaps(
    evidence: Evidence, taxon_id: str, mean: Sequence[WantedRow], rows: Sequence[WantedRow]
) -> tuple[str, ...]:
    name = evidence.taxa[taxon_id].scientific_name
    if not mean:
        return (
            f"No source gives a UV zone for {name}: only the ceiling that holds for every reptile was used.",
        )
    lender = next((row.taxon_id for row in rows if row.relation not in ("own", "named", "member")), None)
    if lender is not None:
        other = evidence.taxa[lender].scientific_name
        return (f"The light wanted for {name} is that of {other}, the nearest animal with a source.",)
    if any(row.relation == "member" for row in rows):
        return (f"{name} is no single species: the lowest UV zone of those it may be was taken.",)
    return ()
