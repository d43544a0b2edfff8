"""The network for one animal: which conditions it can have, how common they are, which signs they bring.

Every parameter is an estimate with an interval. The joint probability of conditions and signs is linear
in each parameter, and the parameters are independent; so the posterior at the parameter means *is* the
posterior with all parameter uncertainty integrated out. The draws show how far it could move.
"""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from baskwell.evidence import Evidence
from baskwell.evidence.covers import covers
from baskwell.evidence.rows.clinical import Link, Prevalence

Array = NDArray[np.float64]
REMAINDER = "other_or_none"
SURRENDERED = "surrendered captive, no major disease"


@dataclass(frozen=True)
class Network:
    """Parameters before anything is known of the animal but its taxon.

    ``prior`` (n, 3) and ``leak`` (s, 3) hold low, most likely, high; ``link_mean`` and ``link_size``
    (n, s) the mean and effective sample size of a Beta. The last condition is ``other_or_none``.
    """

    condition_ids: tuple[str, ...]
    sign_ids: tuple[str, ...]
    prior: Array
    link_mean: Array
    link_size: Array
    leak: Array

    def sign_index(self, sign_ids: Iterable[str]) -> list[int]:
        """Columns of the signs named, in order."""
        place = {sign: k for k, sign in enumerate(self.sign_ids)}
        return [place[sign] for sign in sign_ids]


def build_network(evidence: Evidence, taxon_id: str) -> Network:
    """Take from the evidence what holds for a taxon.

    >>> from baskwell.evidence import load_evidence
    >>> network = build_network(load_evidence(), "python_regius")
    >>> "shell_rot" in network.condition_ids, network.condition_ids[-1]
    (False, 'other_or_none')
    """
    conditions = tuple(c for c in _eligible(evidence, taxon_id) if c != REMAINDER)
    signs = tuple(evidence.signs)
    mean, size = _links(evidence, taxon_id, conditions, signs)
    mean, size = _with_remainder(mean, size)
    everyone = (*conditions, REMAINDER)
    prior = np.array([_interval(_prior_row(evidence, c)) for c in everyone])
    prior[-1] *= evidence.causes.choice("unlisted_disease_share")
    leak = np.array([_interval(_background_row(evidence, s)) for s in signs])
    return Network(everyone, signs, prior, mean, size, leak)


def _eligible(evidence: Evidence, taxon_id: str) -> list[str]:
    return [c.condition_id for c in evidence.conditions.values() if covers(evidence, c.taxa, taxon_id)]


def _links(
    evidence: Evidence, taxon_id: str, conditions: tuple[str, ...], signs: tuple[str, ...]
) -> tuple[Array, Array]:
    """Of the rows that cover the taxon the most specific wins (smallest ``n_taxa``)."""
    mean, size = np.zeros((len(conditions), len(signs))), np.ones((len(conditions), len(signs)))
    best: dict[tuple[int, int], float] = {}
    row_of = {c: k for k, c in enumerate(conditions)}
    column_of = {s: k for k, s in enumerate(signs)}
    covered = {text: _reach(evidence, text, taxon_id) for text in {r.taxon_group for r in evidence.links}}
    for link in evidence.links:
        reach = covered[link.taxon_group]
        if reach is None or link.condition_id not in row_of:
            continue
        cell = (row_of[link.condition_id], column_of[link.sign_id])
        if reach < best.get(cell, np.inf):
            best[cell] = reach
            mean[cell], size[cell] = link.p_recommended, _size(link)
    return mean, size


def _reach(evidence: Evidence, taxon_string: str, taxon_id: str) -> float | None:
    """How many species the text covers, or None where it is not for this animal."""
    group = evidence.taxon_groups[taxon_string]
    usable = group.use_for_animal and "stage=carrier" not in group.condition
    return group.n_taxa if usable and covers(evidence, taxon_string, taxon_id) else None


def _size(link: Link) -> float:
    """Effective sample size: the counts' where they are used, else the prior's."""
    return link.prior_ess if link.presence_only else link.post_a + link.post_b


def _with_remainder(mean: Array, size: Array) -> tuple[Array, Array]:
    """Add a disease that the table does not know: it brings each sign as often as a known one does.

    The average over the listed conditions (zero where unlisted) is the only figure at hand for a disease
    nobody has described; with the background rates alone the remainder could never be found.
    """
    unknown = mean.mean(axis=0, keepdims=True)
    return np.vstack([mean, unknown]), np.vstack([size, np.full_like(unknown, 4.0)])


def _interval(row: Prevalence) -> tuple[float, float, float]:
    if row.p is None or row.p_low is None or row.p_high is None:
        raise ValueError(f"prevalence of {row.target}: p, p_low and p_high must be given, got {row.p}.")
    return (row.p_low, row.p, row.p_high)


def _prior_row(evidence: Evidence, condition: str) -> Prevalence:
    return _only(evidence, "prior_rescue", condition)


def _background_row(evidence: Evidence, sign: str) -> Prevalence:
    return _only(evidence, "background_p_sign", sign)


def _only(evidence: Evidence, kind: str, target: str) -> Prevalence:
    """The row of surrendered animals where there is one, else the published one."""
    rows = [r for r in evidence.prevalence if r.kind == kind and r.target == target and r.p is not None]
    return next((r for r in rows if r.taxon == SURRENDERED), rows[0])
