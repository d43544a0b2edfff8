"""How long the light of a case takes: one lamp told in full, and three lights of which little is known."""

from collections.abc import Iterator

import numpy as np

from baskwell.evidence import load_evidence
from baskwell.science.case.model import Animal, Case, History, Light
from baskwell.science.case.span import Span
from baskwell.science.history.light import recall_light
from benchmarks.figure import Figure, seconds

N_DRAWS = 4000


def measure() -> Iterator[Figure]:
    """Wall time after import, 4,000 draws."""
    told = Light("uvb_tube_t5_ho_6pct", Span.exactly(9), Span.exactly(35), "fine_mesh", Span.exactly(10))
    guessed = (Light("uvb_tube_unspecified"), Light("basking_lamp"), Light("heat_mat"))
    yield _timed("light: one lamp told in full, 4,000 draws", (told,))
    yield _timed("light: three lights, little known, 4,000 draws", guessed)


def _timed(name: str, lights: tuple[Light, ...]) -> Figure:
    case, evidence = Case(Animal("terrapene_ornata"), history=History(lights=lights)), load_evidence()
    return Figure(
        name, seconds(lambda: recall_light(case, evidence, np.random.default_rng(1), N_DRAWS), 21), 0.02
    )
