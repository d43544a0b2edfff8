"""One animal's ranking problem: the network with this animal's facts folded in, ready to be solved."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from baskwell.evidence import Evidence
from baskwell.science.causes.factors import Factor, combine
from baskwell.science.causes.network import Network
from baskwell.science.causes.observed import Observed
from baskwell.science.causes.sweep import fold_absent
from baskwell.science.draws import pert

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Problem:
    """Arrays with a last axis of lanes, as ``sweep.exact_marginals`` takes them.

    ``prior`` (n_conditions, n_lanes) holds exposures, age, sex and course, not yet the absent signs;
    ``links`` (n_conditions, n_present, n_lanes); ``leak`` (n_present, n_lanes); ``links_absent``
    (n_conditions, n_absent, n_lanes).
    """

    condition_ids: tuple[str, ...]
    present: tuple[str, ...]
    absent: tuple[str, ...]
    prior: Array
    links: Array
    leak: Array
    links_absent: Array

    @property
    def folded(self) -> Array:
        """The prior with absent signs folded in."""
        return fold_absent(self.prior, self.links_absent)

    @property
    def chance_of_absent(self) -> Array:
        """P(none of the absent signs is brought by a condition), shape (n_lanes,)."""
        brought = 1.0 - np.prod(1.0 - self.links_absent, axis=1)
        chance: Array = np.prod(1.0 - self.prior * brought, axis=0)
        return chance

    def without_sign(self, sign: str) -> "Problem":
        """The same problem with one present sign not looked at."""
        keep = [k for k, name in enumerate(self.present) if name != sign]
        present = tuple(self.present[k] for k in keep)
        return replace(self, present=present, links=self.links[:, keep], leak=self.leak[keep])


def expected_problem(
    network: Network, seen: Observed, factors: Sequence[Factor], evidence: Evidence
) -> Problem:
    """The problem at the parameter means (one lane): its posterior has all parameter doubt integrated out."""
    prior = _mean(network.prior)[:, None]
    links, leak, absent = _signs(
        network, seen, evidence, network.link_mean[:, :, None], _mean(network.leak)[:, None]
    )
    multiplier = np.array([_mean_multiplier(factors, c, evidence) for c in network.condition_ids])[:, None]
    leak = _raise_odds(
        leak, np.array([_mean_multiplier(factors, s, evidence) for s in seen.present])[:, None]
    )
    return Problem(
        network.condition_ids,
        tuple(seen.present),
        seen.absent,
        _raise_odds(prior, multiplier),
        links,
        leak,
        absent,
    )


def drawn_problem(
    network: Network,
    seen: Observed,
    factors: Sequence[Factor],
    evidence: Evidence,
    rng: np.random.Generator,
    n_draws: int,
) -> Problem:
    """The problem with every parameter drawn; lanes are the first ``n_draws`` worlds of the history."""
    small = narrowed(network, (*seen.present, *seen.absent))
    link = _drawn_links(small, rng, n_draws)
    leak = _drawn_intervals(small.leak, rng, n_draws)
    links, leaks, absent = _signs(small, seen, evidence, link, leak)
    overlap = evidence.causes.choice("overlap")
    here = cut(factors, n_draws)
    multiplier = np.stack([combine(here, c, overlap, n_draws) for c in network.condition_ids])
    prior = _raise_odds(_drawn_intervals(network.prior, rng, n_draws), multiplier)
    return Problem(network.condition_ids, tuple(seen.present), seen.absent, prior, links, leaks, absent)


def narrowed(network: Network, sign_ids: Sequence[str]) -> Network:
    """The network of only these signs, in this order."""
    columns = network.sign_index(sign_ids)
    return replace(
        network,
        sign_ids=tuple(sign_ids),
        link_mean=network.link_mean[:, columns],
        link_size=network.link_size[:, columns],
        leak=network.leak[columns],
    )


def cut(factors: Sequence[Factor], n_draws: int) -> tuple[Factor, ...]:
    """The factors in the first ``n_draws`` possible worlds."""
    return tuple(replace(f, multiplier=f.multiplier[:n_draws]) for f in factors)


def _mean(intervals: Array) -> Array:
    """Mean of the PERT of (low, most likely, high)."""
    mean: Array = (intervals[:, 0] + 4.0 * intervals[:, 1] + intervals[:, 2]) / 6.0
    return mean


def _mean_multiplier(factors: Sequence[Factor], target: str, evidence: Evidence) -> float:
    mine = [f for f in factors if f.target == target]
    if not mine:
        return 1.0
    n_draws = mine[0].multiplier.size
    return float(combine(mine, target, evidence.causes.choice("overlap"), n_draws).mean())


def _raise_odds(probability: Array, multiplier: Array) -> Array:
    raised: Array = probability * multiplier / (probability * multiplier + 1.0 - probability)
    return raised


def _drawn_intervals(intervals: Array, rng: np.random.Generator, n_draws: int) -> Array:
    return (
        np.stack([pert(rng, low, mode, high, n_draws) for low, mode, high in intervals])
        if len(intervals)
        else np.zeros((0, n_draws))
    )


def _drawn_links(network: Network, rng: np.random.Generator, n_draws: int) -> Array:
    """Beta draws for every link that is not zero, shape (n_conditions, n_signs, n_draws)."""
    drawn = np.zeros((*network.link_mean.shape, n_draws))
    some = network.link_mean > 0
    mean, size = network.link_mean[some], network.link_size[some]
    drawn[some] = rng.beta((mean * size)[:, None], ((1.0 - mean) * size)[:, None], (mean.size, n_draws))
    return drawn


def _signs(
    network: Network, seen: Observed, evidence: Evidence, link: Array, leak: Array
) -> tuple[Array, Array, Array]:
    """Links and leaks of present signs, scaled by severity, and links of absent signs."""
    present, absent = network.sign_index(seen.present), network.sign_index(seen.absent)
    factors = [severity_factors(sign.severity, evidence) for sign in seen.present.values()]
    for_link = np.array([f[0] for f in factors]).reshape(1, -1, 1)
    for_leak = np.array([f[1] for f in factors]).reshape(-1, 1)
    return link[:, present] * for_link, leak[present] * for_leak, link[:, absent]


def severity_factors(severity: int | None, evidence: Evidence) -> tuple[float, float]:
    """How far a sign's severity scales its links and its background rate.

    A severe sign is rarely background, a mild one rarely proves a disease: both are scaled by the share
    of signs of that severity (``severity_shares.csv``), the larger of the two kept at one.

    >>> from baskwell.evidence import load_evidence
    >>> severity_factors(None, load_evidence())
    (1.0, 1.0)
    """
    row = next((r for r in evidence.causes.severity_shares if r.severity == severity), None)
    if row is None:
        return (1.0, 1.0)
    ratio = row.by_condition / row.by_background
    return (min(1.0, ratio), min(1.0, 1.0 / ratio))
