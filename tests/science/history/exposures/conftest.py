"""What the tests of exposures share: a case with some facts, believed in."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
import pytest

from baskwell.evidence import Evidence
from baskwell.evidence.loader import load_evidence
from baskwell.science.case.model import Animal, Case, Exam, History
from baskwell.science.history.belief import Exposure
from baskwell.science.history.exposures import believe_exposures
from baskwell.science.history.exposures.parts import DietPart, Part
from baskwell.science.history.finding import Finding
from baskwell.science.history.light import recall_light

Believe = Callable[..., dict[str, Exposure]]


@dataclass(frozen=True)
class Findings:
    """A part of the history that holds given findings and nothing else."""

    findings: tuple[Finding, ...] = ()
    gaps: tuple[str, ...] = ()


@pytest.fixture(scope="session")
def evidence() -> Evidence:
    """The shipped tables."""
    return load_evidence()


@pytest.fixture(scope="session")
def believe(evidence: Evidence) -> Believe:
    """Beliefs about a case with the history given by keywords; light is recalled, the rest handed in."""

    def believed(
        taxon: str = "testudo_hermanni",
        animal: dict[str, Any] | None = None,
        exam: Exam | None = None,
        diet: DietPart | None = None,
        surroundings: Part | None = None,
        n_draws: int = 2000,
        seed: int = 1,
        **history: Any,
    ) -> dict[str, Exposure]:
        case = Case(Animal(taxon=taxon, **(animal or {})), History(**history), exam=exam or Exam())
        rng, other = np.random.default_rng(seed).spawn(2)
        light = recall_light(case, evidence, other, n_draws)
        found = believe_exposures(case, evidence, diet, light, surroundings or Findings(), n_draws, rng)
        return {exposure.exposure_id: exposure for exposure in found}

    return believed
