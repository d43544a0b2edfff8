"""Stated numbers and ranges to draws, and the error of what they were read from."""

import numpy as np

from baskwell.science.case.span import Span
from baskwell.science.draws import Draws
from baskwell.science.history.surroundings.scene import Scene


def stated(scene: Scene, span: Span, stream: str) -> Draws:
    """Draws of a stated number (constant) or range (even between its ends), shape ``(n_draws,)``.

    An open end lies a judged factor beyond the known one (``open_end_above``, ``open_end_below``).
    """
    share = scene.streams[stream].random(scene.n_draws)
    above, below = scene.prior("open_end_above", stream), scene.prior("open_end_below", stream)
    low = span.low if span.low is not None else (span.high or 0.0) * below
    high = span.high if span.high is not None else (span.low or 0.0) * above
    return np.asarray(low + (high - low) * share)


def stated_temperature(scene: Scene, span: Span, stream: str) -> Draws:
    """As ``stated``, in C: an open end lies so many K beyond the known one (``open_end_k``)."""
    share = scene.streams[stream].random(scene.n_draws)
    beyond = scene.prior("open_end_k", stream)
    low = span.low if span.low is not None else (span.high or 0.0) - beyond
    high = span.high if span.high is not None else (span.low or 0.0) + beyond
    return np.asarray(low + (high - low) * share)


def instrument_sd(scene: Scene, quantity: str, kind: str | None) -> Draws:
    """Standard deviation of the reading's error in each possible world, shape ``(n_draws,)``.

    ``quantity`` is ``temperature`` or ``humidity``; ``kind`` the word of the case file. Where it is not
    known, each world has one kind of instrument, drawn by ``share_if_unknown``.
    """
    name = "thermometer" if quantity == "temperature" else "hygrometer"
    if kind is not None:
        return np.full(scene.n_draws, scene.tables.instrument(f"{name}_{kind}").model_sd)
    rows = [row for row in scene.tables.instruments if row.quantity == quantity and row.share_if_unknown > 0]
    shares = np.array([row.share_if_unknown for row in rows])
    ends = np.cumsum(shares / shares.sum())[:-1]
    which = np.searchsorted(ends, scene.streams[name].random(scene.n_draws), side="right")
    return np.asarray(np.array([row.model_sd for row in rows])[which])
