"""What past care really was: labels, diet, light and surroundings recalled, and the exposures that follow."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, get_args

import numpy as np

from baskwell.evidence import Evidence
from baskwell.science.case.model import Case
from baskwell.science.composition_index import CompositionIndex
from baskwell.science.history.belief import Exposure
from baskwell.science.history.diet_recall import DietRecall, recall_diet
from baskwell.science.history.exposures import believe_exposures, stated_and_denied
from baskwell.science.history.exposures.parts import Part
from baskwell.science.history.finding import Finding, Topic
from baskwell.science.history.label import LabelReading, read_labels
from baskwell.science.history.light import LightHistory, recall_light
from baskwell.science.history.surroundings import SurroundingsHistory, recall_surroundings

if TYPE_CHECKING:
    from baskwell.science.history.climate_log import ClimateLog

READING_ORDER: tuple[Topic, ...] = get_args(Topic)


@dataclass(frozen=True)
class CareHistory:
    """The past care of one animal.

    ``labels`` are the feed labels by their id; ``diet`` is None where no food is told of. ``exposures``
    hold one belief for every exposure of the evidence. Draws of all parts have shape ``(n_draws,)``, and
    one index is the same possible world in all of them. ``gaps`` are sentences on what could not be used
    and why.
    """

    labels: Mapping[str, LabelReading]
    diet: DietRecall | None = field(repr=False)
    light: LightHistory = field(repr=False)
    surroundings: SurroundingsHistory = field(repr=False)
    exposures: tuple[Exposure, ...]
    gaps: tuple[str, ...]

    @property
    def findings(self) -> tuple[Finding, ...]:
        """All findings in reading order: diet, light, heat, humidity, space, substrate, water, hygiene."""
        fed = self.diet.findings if self.diet is not None else ()
        found = (*fed, *self.light.findings, *self.surroundings.findings)
        return tuple(sorted(found, key=lambda finding: READING_ORDER.index(finding.topic)))


def reconstruct_care(
    case: Case,
    evidence: Evidence,
    rng: np.random.Generator,
    n_draws: int = 4000,
    climate: "ClimateLog | None" = None,
) -> CareHistory:
    """Recall every part of the history of a case and believe in exposures as far as it says.

    Every part has a generator of its own, spawned from ``rng``, so that a fact of one part leaves the
    draws of the others as they were. ``climate`` holds the readings of a data logger. Raises KeyError for
    a taxon without a row.

    >>> from baskwell.evidence import load_evidence
    >>> from baskwell.science.case.model import Animal, History, Light
    >>> case = Case(Animal("pogona_vitticeps"), History(lights=(Light("none"),)))
    >>> care = reconstruct_care(case, load_evidence(), np.random.default_rng(1), 100)
    >>> [(e.exposure_id, e.mean) for e in care.exposures if e.exposure_id == "no_uvb"]
    [('no_uvb', 1.0)]
    """
    streams = rng.spawn(5)
    index = CompositionIndex.from_evidence(evidence) if case.labels or case.history.diet else None
    labels = read_labels(case, evidence, streams[0], n_draws, index)
    diet = recall_diet(case, evidence, streams[1], n_draws, labels, index)
    light = recall_light(case, evidence, streams[2], n_draws)
    surroundings = recall_surroundings(case, evidence, streams[3], n_draws, climate)
    exposures = believe_exposures(case, evidence, diet, light, surroundings, n_draws, streams[4])
    gaps = _gaps(case, evidence, (diet, light, surroundings))
    return CareHistory(labels, diet, light, surroundings, exposures, gaps)


def _gaps(case: Case, evidence: Evidence, parts: tuple[Part | None, ...]) -> tuple[str, ...]:
    """What could not be used and why, in reading order, each sentence once."""
    told = [gap for part in parts if part is not None for gap in part.gaps]
    names = {row.exposure_id: row.name for row in reversed(evidence.exposure_effects)}
    both = [
        f"{names[exposure_id]}: stated and denied at once, so neither was used; ask again."
        for exposure_id in stated_and_denied(case)
    ]
    return tuple(dict.fromkeys((*told, *both)))
