"""The ranking: exact posterior in bulk and alone, explaining order, questions, against a general library."""

from collections.abc import Iterator
from functools import partial
from typing import Any

import numpy as np
from numpy.typing import NDArray

from baskwell.evidence import load_evidence
from baskwell.science.case.model import Animal, Case, Exam, SignSeen
from baskwell.science.causes.questions import next_questions
from baskwell.science.causes.rank import set_up
from baskwell.science.causes.sweep import disablement, exact_marginals, prepare
from baskwell.science.history.belief import Exposure
from benchmarks.figure import Figure, seconds

N_CONDITIONS, N_SIGNS, N_DRAWS, REAL_DENSITY = 65, 10, 2000, 0.2


def measure() -> Iterator[Figure]:
    """The exact sweep on a dense network and on one as sparse as the evidence, and what is built on it."""
    prepare()
    size = f"{N_CONDITIONS} conditions x {N_SIGNS} signs"
    for word, density in (("every pair linked", 1.0), ("linked as in the evidence", REAL_DENSITY)):
        drawn = _network(density, N_DRAWS)
        single = _network(density, 1, np.float64)
        yield Figure(f"{size} x {N_DRAWS} draws, {word}", seconds(partial(exact_marginals, *drawn)), 0.6)
        yield Figure(f"{size}, one posterior, {word}", seconds(partial(exact_marginals, *single)), 0.002)
        yield Figure(f"{size}, explaining order, {word}", seconds(partial(disablement, *single)), 0.015)
    yield Figure("next best question, 8 signs, all open", _questions(), 0.05)
    yield from _against_library()


Real = NDArray[np.floating[Any]]
Network = tuple[Real, Real, Real]


def _network(
    density: float, n_lanes: int, kind: type = np.float32, n: int = N_CONDITIONS, m: int = N_SIGNS
) -> Network:
    rng = np.random.default_rng(1)
    links = rng.random((n, m, n_lanes)) * (rng.random((n, m, 1)) < density)
    arrays = (rng.random((n, n_lanes)) * 0.3, links, rng.random((m, n_lanes)) * 0.1)
    return arrays[0].astype(kind), arrays[1].astype(kind), arrays[2].astype(kind)


def _questions() -> float:
    evidence = load_evidence()
    names = ("anorexia", "lethargy", "nasal_discharge", "palpebral_oedema", "stomatitis", "weight_loss",
             "beak_overgrown", "shell_soft")  # fmt: skip
    case = Case(Animal("terrapene_carolina"), exam=Exam(signs=tuple(SignSeen(s, 2) for s in names)))
    exposures = tuple(
        Exposure(p.exposure_id, "unknown", "", np.full(10, p.mode)) for p in evidence.exposure_priors.values()
    )
    setting = set_up(case, evidence, exposures, np.random.default_rng(1), 10)
    return seconds(lambda: next_questions(setting))


def _against_library() -> Iterator[Figure]:
    """Time of one posterior over the library's, on the largest network that it solves in a few seconds."""
    try:
        import pyagrum as gum
    except ImportError:
        return
    prior, links, leak = _network(1.0, 1, np.float64, n=16, m=6)
    net = gum.BayesNet()
    causes = [net.add(gum.LabelizedVariable(f"c{k}", "", 2)) for k in range(16)]
    signs = [net.addNoisyORNet(gum.LabelizedVariable(f"s{k}", "", 2), float(leak[k, 0])) for k in range(6)]
    for i, cause in enumerate(causes):
        net.cpt(cause).fillWith([1 - float(prior[i, 0]), float(prior[i, 0])])
        for k, sign in enumerate(signs):
            net.addWeightedArc(cause, sign, float(links[i, k, 0]))

    def general() -> None:
        inference = gum.LazyPropagation(net)
        inference.setEvidence({f"s{k}": 1 for k in range(6)})
        inference.makeInference()

    ours = seconds(lambda: exact_marginals(prior, links, leak))
    yield Figure(
        "general library over ours, 16 conditions x 6 signs", seconds(general) / ours, 100, "x", at_least=True
    )
