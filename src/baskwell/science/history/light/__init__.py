"""What UV and daylight reached the animal: lamps, sun, what is between, against what its kind needs."""

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from baskwell.evidence import Evidence
from baskwell.science.case.model import Case
from baskwell.science.draws import Draws
from baskwell.science.history.finding import Finding, Wanted
from baskwell.science.history.light.daylight import recall_daylight, wanted_hours
from baskwell.science.history.light.falloff import fraction_left, relative_irradiance
from baskwell.science.history.light.lamp import LampLine
from baskwell.science.history.light.priors import Priors
from baskwell.science.history.light.questions import ASK_HOURS, ASK_SOURCE, ASK_UNLISTED, questions_of
from baskwell.science.history.light.sun import is_outdoors
from baskwell.science.history.light.supply import Source, Supply, recall_supply
from baskwell.science.history.light.tell import day_hours, lamp_sentence, uv_at_back, uv_nearest
from baskwell.science.history.light.wanted import WantedLight, wanted_light

__all__ = [
    "LampLine",
    "LightHistory",
    "Source",
    "WantedLight",
    "fraction_left",
    "recall_light",
    "relative_irradiance",
]


@dataclass(frozen=True, eq=False)
class LightHistory:
    """The light of one case.

    Draws have shape ``(n_draws,)`` and are None where nothing is known: ``uv_index`` at the back now,
    ``uv_index_new`` of the same lamps when new, ``uv_index_nearest`` at the nearest point to a lamp,
    ``dose_uvi_hours`` a day at the basking place, ``uvb_works`` 1 in the worlds with a working UVB source
    (at least one step of a meter at its back) and 0 in the others.

    ``uvb_source`` is known, none, unlisted or unknown (see ``Supply``) and ``source_because`` says why.
    ``lines`` are the lights, ``line_sentences`` the same in words. ``questions`` come in the order in which
    their answers settle most.
    """

    findings: tuple[Finding, ...]
    gaps: tuple[str, ...]
    lines: tuple[LampLine, ...]
    line_sentences: tuple[str, ...]
    questions: tuple[str, ...]
    uvb_source: Source
    source_because: str
    wanted: WantedLight
    uv_index: Draws | None = field(default=None, repr=False)
    uv_index_new: Draws | None = field(default=None, repr=False)
    uv_index_nearest: Draws | None = field(default=None, repr=False)
    dose_uvi_hours: Draws | None = field(default=None, repr=False)
    uvb_works: Draws | None = field(default=None, repr=False)

    @property
    def by_id(self) -> Mapping[str, Finding]:
        """The findings by their id."""
        return {finding.finding_id: finding for finding in self.findings}


def recall_light(
    case: Case, evidence: Evidence, rng: np.random.Generator, n_draws: int = 4000
) -> LightHistory:
    """What UV index, dose and daylight the animal had, and how sure that is.

    Each lamp is drawn from its kind, age, distance, what is between and its hours; what was not said is
    drawn from the priors of ``light_priors.csv``; a UV index meter's reading moves the draws. Without any
    word of lamps or sun everything is "not known". Raises the lookup's ``UnknownKey`` for an unknown taxon.

    >>> from baskwell.evidence import load_evidence
    >>> from baskwell.science.case.model import Animal
    >>> light = recall_light(Case(Animal("iguana_iguana")), load_evidence(), np.random.default_rng(1))
    >>> light.uvb_source, light.by_id["uv_index_at_back"].verdict
    ('unknown', 'not known')
    """
    priors = Priors(evidence, int(rng.integers(2**63)), n_draws)
    taxon = case.animal.taxon
    wanted = wanted_light(priors, taxon)
    supply = recall_supply(priors, case, evidence.taxa[taxon].tags)
    supply = _as_judged(priors, case, supply, wanted.at_back)
    daylight = recall_daylight(priors, case, supply)
    outdoors = is_outdoors(case.history.surroundings) is True
    findings = (
        uv_at_back(supply, wanted),
        uv_nearest(supply, wanted),
        day_hours(daylight, wanted_hours(priors, case, wanted), outdoors),
    )
    return LightHistory(
        findings=findings,
        gaps=_gaps(case, supply, wanted),
        lines=supply.lines,
        line_sentences=tuple(lamp_sentence(line) for line in supply.lines),
        questions=_questions(supply, findings),
        uvb_source=supply.source,
        source_because=supply.because,
        wanted=wanted,
        uv_index=supply.uv_index,
        uv_index_new=supply.uv_index_new,
        uv_index_nearest=supply.nearest,
        dose_uvi_hours=supply.dose,
        uvb_works=_works(priors, supply.uv_index),
    )


def _works(priors: Priors, uv_index: Draws | None) -> Draws | None:
    return None if uv_index is None else (uv_index >= priors.one("useful_uvi")).astype(np.float64)


def _as_judged(priors: Priors, case: Case, supply: Supply, wanted: Wanted | None) -> Supply:
    """Let a judge's bare word on light or UV weigh a little: worlds that fit it are drawn more often."""
    ratio = _judged_ratio(priors, case)
    if ratio == 1.0 or supply.uv_index is None or wanted is None:
        return supply
    low = -np.inf if wanted.low is None else wanted.low
    high = np.inf if wanted.high is None or supply.has_sun else wanted.high
    weight = np.where((supply.uv_index >= low) & (supply.uv_index <= high), ratio, 1.0)
    return supply.taken(_resampled(weight, priors.stream("judged")))


def _judged_ratio(priors: Priors, case: Case) -> float:
    """How many times likelier the judge's word is where the light fits than where it does not."""
    good = priors.words("judged_good_ratio") & set(case.history.judged_good)
    poor = priors.words("judged_poor_ratio") & set(case.history.judged_poor)
    up = priors.one("judged_good_ratio", *good) if good else 1.0
    return up / priors.one("judged_poor_ratio", *poor) if poor else up


def _resampled(weight: Draws, stream: np.random.Generator) -> NDArray[np.intp]:
    """Systematic resampling: as many draws as before, each as often as its weight, in random order."""
    edges = np.cumsum(weight) / weight.sum()
    points = (stream.random() + np.arange(weight.size)) / weight.size
    index = np.minimum(np.searchsorted(edges, points), weight.size - 1)
    return np.asarray(stream.permutation(index))


def _gaps(case: Case, supply: Supply, wanted: WantedLight) -> tuple[str, ...]:
    found = [gap for line in supply.lines for gap in line.gaps]
    judged = {*case.history.judged_good, *case.history.judged_poor} & {"uv", "light"}
    if judged and (supply.uv_index is None or wanted.at_back is None):
        found.append("The light was judged without saying what it was: there was nothing to weigh that by.")
    if supply.source == "known" and any(light.kind == "none" for light in case.history.lights):
        found.append("The lights hold both 'none' and a source of UVB: the source was believed. Which holds?")
    if supply.has_sun:
        found.append("The sun's UV index has no upper limit here: outdoors, shade in reach is what counts.")
    if any(line.barrier == "acrylic" for line in supply.lines):
        found.append(
            "Acrylic was read as ordinary acrylic; a sheet sold as UV-transmitting passes most UVB when new."
        )
    return (*wanted.gaps, *found)


def _questions(supply: Supply, findings: tuple[Finding, ...]) -> tuple[str, ...]:
    first = {"unknown": (ASK_SOURCE,), "unlisted": (ASK_UNLISTED,)}.get(supply.source, ())
    asked = (*first, *questions_of(supply.lines), *(finding.ask for finding in findings))
    kept = [question for question in dict.fromkeys(asked) if question]
    if supply.source == "unknown":
        kept = [question for question in kept if question in (ASK_SOURCE, ASK_HOURS)]
    return tuple(kept)
