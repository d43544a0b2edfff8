"""The ranking: exact posterior in bulk and alone, explaining order, questions, against a general library."""

import time
from collections.abc import Callable

import numpy as np

from baskwell.evidence import load_evidence
from baskwell.science.case.model import Animal, Case, Exam, SignSeen
from baskwell.science.causes.questions import next_questions
from baskwell.science.causes.rank import set_up
from baskwell.science.causes.sweep import disablement, exact_marginals, prepare
from baskwell.science.history.belief import Exposure

TARGETS = {
    "posterior 65x10x2000 dense, s": 0.6,
    "posterior 65x10x2000 of the real density, s": 0.6,
    "one posterior 65x10, s": 0.002,
    "explaining order 65x10, s": 0.015,
    "questions, 8 signs, s": 0.05,
}
N_CONDITIONS, N_SIGNS, N_DRAWS, REAL_DENSITY = 65, 10, 2000, 0.2


def measure() -> dict[str, float]:
    """Seconds for each figure, and the ratio to a general graphical-model library."""
    dense, real = _network(1.0, N_DRAWS), _network(REAL_DENSITY, N_DRAWS)
    single = _network(1.0, 1, np.float64)
    prepare()
    found = {
        "posterior 65x10x2000 dense, s": _best(lambda: exact_marginals(*dense)),
        "posterior 65x10x2000 of the real density, s": _best(lambda: exact_marginals(*real)),
        "one posterior 65x10, s": _best(lambda: exact_marginals(*single)),
        "explaining order 65x10, s": _best(lambda: disablement(*single)),
        "questions, 8 signs, s": _questions(),
    }
    return found | _against_library()


Network = tuple[np.ndarray, np.ndarray, np.ndarray]  # type: ignore[type-arg]


def _network(
    density: float, n_lanes: int, kind: type = np.float32, n: int = N_CONDITIONS, m: int = N_SIGNS
) -> Network:
    rng = np.random.default_rng(1)
    links = rng.random((n, m, n_lanes)) * (rng.random((n, m, 1)) < density)
    arrays = (rng.random((n, n_lanes)) * 0.3, links, rng.random((m, n_lanes)) * 0.1)
    return arrays[0].astype(kind), arrays[1].astype(kind), arrays[2].astype(kind)


def _best(work: Callable[[], object], repeats: int = 5) -> float:
    times = []
    for _ in range(repeats):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return float(np.median(times))


def _questions() -> float:
    evidence = load_evidence()
    names = ("anorexia", "lethargy", "nasal_discharge", "palpebral_oedema", "stomatitis", "weight_loss",
             "beak_overgrown", "shell_soft")  # fmt: skip
    case = Case(Animal("terrapene_carolina"), exam=Exam(signs=tuple(SignSeen(s, 2) for s in names)))
    exposures = tuple(
        Exposure(p.exposure_id, "unknown", "", np.full(10, p.mode)) for p in evidence.exposure_priors.values()
    )
    setting = set_up(case, evidence, exposures, np.random.default_rng(1), 10)
    return _best(lambda: next_questions(setting))


def _against_library() -> dict[str, float]:
    """Time of one posterior over the library's, on the largest network that it solves in a few seconds."""
    try:
        import pyagrum as gum
    except ImportError:
        return {}
    prior, links, leak = _network(1.0, 1, np.float64, n=16, m=6)
    net = gum.BayesNet()
    causes = [net.add(gum.LabelizedVariable(f"c{k}", "", 2)) for k in range(16)]
    signs = [net.addNoisyORNet(gum.LabelizedVariable(f"s{k}", "", 2), float(leak[k, 0])) for k in range(6)]
    for i, cause in enumerate(causes):
        net.cpt(cause).fillWith([1 - float(prior[i, 0]), float(prior[i, 0])])
        for k, sign in enumerate(signs):
            net.addWeightedArc(cause, sign, float(links[i, k, 0]))

    def general() -> None:
        inference = gum.LazyPropagation(net)  # type: ignore[no-untyped-call]
        inference.setEvidence({f"s{k}": 1 for k in range(6)})
        inference.makeInference()

    ours = _best(lambda: exact_marginals(prior, links, leak))
    return {"times faster than a general library, 16x6": _best(general, 3) / ours}
