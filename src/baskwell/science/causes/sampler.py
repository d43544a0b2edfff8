"""Gibbs sampling for more present signs than the exact sweep can hold, with its own check."""

import numpy as np

from baskwell.science.causes.problem import Array, Problem
from baskwell.science.causes.sweep import Disablement, Marginals

N_CHAINS = 96
N_SWEEPS = 400
N_BURN = 100
LARGEST_R_HAT = 1.05


def sample(problem: Problem, rng: np.random.Generator) -> tuple[Marginals, Disablement]:
    """Posterior and disablement of a problem by Gibbs sampling over the conditions, lane by lane.

    Several chains from the prior; raises RuntimeError where they have not mixed (R-hat of any condition
    above 1.05). Evidence is not estimated: it is NaN.
    """
    lanes = [_sample_lane(problem, lane, rng) for lane in range(problem.prior.shape[1])]
    posterior, alone, background = (np.stack(parts, axis=-1) for parts in zip(*lanes, strict=True))
    evidence = np.full(problem.prior.shape[1], np.nan)
    return Marginals(posterior, evidence), Disablement(alone, background)


def _sample_lane(problem: Problem, lane: int, rng: np.random.Generator) -> tuple[Array, Array, Array]:
    prior = problem.folded[:, lane]
    silence = np.log1p(-np.minimum(problem.links[:, :, lane], 1.0 - 1e-6))
    leak_silence = np.log1p(-problem.leak[:, lane])
    state = (rng.random((N_CHAINS, prior.size)) < prior).astype(float)
    log_prior = np.log(np.maximum(prior, 1e-12)) - np.log1p(-prior)
    per_chain = np.zeros((N_CHAINS, prior.size))
    alone, background = np.zeros(silence.shape), np.zeros(silence.shape[1])
    for sweep in range(N_SWEEPS):
        quiet = _update(state, log_prior, silence, leak_silence, rng)
        if sweep >= N_BURN:
            per_chain += state
            one, back = _sole_causes(state, quiet, silence, leak_silence)
            alone += one
            background += back
    kept = N_SWEEPS - N_BURN
    _check_mixed(per_chain / kept)
    return per_chain.mean(axis=0) / kept, alone / kept, background / kept


def _update(
    state: Array, log_prior: Array, silence: Array, leak_silence: Array, rng: np.random.Generator
) -> Array:
    """Redraw each condition given the others, in place; returns log P(silent) per chain and sign."""
    quiet = state @ silence + leak_silence
    for c in range(log_prior.size):
        quiet -= state[:, c : c + 1] * silence[c]
        speaks = np.log(np.maximum(-np.expm1(quiet + silence[c]), 1e-300))
        hushed = np.log(np.maximum(-np.expm1(quiet), 1e-300))
        odds = np.clip(log_prior[c] + (speaks - hushed).sum(axis=1), -700.0, 700.0)
        state[:, c] = rng.random(state.shape[0]) < 1.0 / (1.0 + np.exp(-odds))
        quiet += state[:, c : c + 1] * silence[c]
    return quiet


def _sole_causes(state: Array, quiet: Array, silence: Array, leak_silence: Array) -> tuple[Array, Array]:
    """Mean over chains of P(only this cause is active | state) for every condition and the leak."""
    present = -np.expm1(quiet)
    loud = np.expm1(-silence)
    share = np.exp(quiet) / present
    return loud * (state.T @ share) / state.shape[0], (share * np.expm1(-leak_silence)).mean(axis=0)


def _check_mixed(means: Array) -> None:
    """Compare halves of the chains: for 0/1 states the spread of chain means must be sampling noise."""
    n_kept = N_SWEEPS - N_BURN
    overall = means.mean(axis=0)
    within = np.maximum(overall * (1.0 - overall), 1e-9)
    between = means.var(axis=0, ddof=1)
    r_hat = np.sqrt((within * (n_kept - 1) / n_kept + between) / within)
    if float(r_hat.max()) > LARGEST_R_HAT:
        raise RuntimeError(
            f"The sampler has not mixed (R-hat {r_hat.max():.2f}, at most {LARGEST_R_HAT}): "
            "score fewer overlapping signs and rank again."
        )
