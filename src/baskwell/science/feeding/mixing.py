"""From what it eats to what it should: the share of new food in the mix advances, holds or steps back."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from baskwell.evidence import Evidence
from baskwell.evidence.covers import covers
from baskwell.evidence.rows.nutrition import WeaningStep
from baskwell.science.draws import Summary
from baskwell.science.feeding.intake import Intake

Move = Literal["start", "advance", "hold", "step back", "stop", "done"]
_STEP = re.compile(r"step \d+ of \d+: share of the new food in the mix")


@dataclass(frozen=True, slots=True)
class MixStep:
    """What to mix next: ``share_pct`` of the offered weight is the new food, the rest what it eats now."""

    move: Move
    share_pct: float
    sentence: str
    evidence_ids: tuple[str, ...]


def mixing_steps(evidence: Evidence, taxon_id: str) -> tuple[WeaningStep, ...]:
    """The published or usual steps for a taxon, the smallest share first; empty where there are none.

    >>> from baskwell.evidence import load_evidence
    >>> [row.value_low for row in mixing_steps(load_evidence(), "terrapene_ornata")]
    [10.0, 25.0, 50.0, 75.0, 100.0]
    """
    rows = (
        row
        for row in evidence.weaning
        if _STEP.fullmatch(row.step_or_threshold) and covers(evidence, row.taxon, taxon_id)
    )
    return tuple(sorted(rows, key=_share))


def _share(row: WeaningStep) -> float:
    return row.value_low or 0.0


def next_mix(
    evidence: Evidence,
    taxon_id: str,
    share_now_pct: float,
    days_on_step: float,
    feeds: Sequence[Intake],
    loss_pct: Summary | None,
) -> MixStep | None:
    """The next mix, from the measured feeds at this share (in order of time); None without a schedule.

    ``share_now_pct`` 0 = not begun. ``loss_pct`` is the mass lost since the change of diet began; not
    known holds the step, for without a weighing nobody knows that it is safe. A feed counts as eaten well,
    or refused, only where four in five draws say so.
    """
    steps = mixing_steps(evidence, taxon_id)
    if not steps:
        return None
    shares = [_share(row) for row in steps]
    place = max((k for k, share in enumerate(shares) if share <= share_now_pct), default=-1)
    move, why = _move(evidence, days_on_step, feeds, loss_pct, place, len(shares))
    there = {"advance": place + 1, "start": 0, "step back": place - 1, "stop": -1}.get(move, place)
    share = shares[min(there, len(shares) - 1)] if there >= 0 else 0.0
    return MixStep(move, share, f"{why} Next mix: {share:g} % new food.", tuple(r.row_id for r in steps))


def _move(
    evidence: Evidence,
    days: float,
    feeds: Sequence[Intake],
    loss_pct: Summary | None,
    place: int,
    n_steps: int,
) -> tuple[Move, str]:
    choice = evidence.feeding.choice
    if loss_pct is not None and loss_pct.median >= choice("stop_loss"):
        return "stop", f"It lost {loss_pct.median:.1f} %: go back to what it eats and find out why."
    if feeds and _sure(feeds[-1], below=choice("accepted_share")):
        return ("step back", "The last mix was refused.") if place >= 0 else ("hold", "It refuses all food.")
    if loss_pct is None or loss_pct.high >= choice("stop_loss"):
        return "hold", "Mass is not known to hold: weigh before the next step."
    if place < 0:
        return "start", "Nothing was mixed yet."
    last = list(feeds[-int(choice("advance_feeds")) :])
    well = len(last) == int(choice("advance_feeds")) and all(
        _sure(one, least=choice("advance_share")) for one in last
    )
    if not well or days < choice("hold_days"):
        return "hold", f"{len(feeds)} feeds in {days:g} days: not yet eaten well often or long enough."
    return ("advance", "Eaten well.") if place + 1 < n_steps else ("done", "It eats the new food alone.")


def _sure(feed: Intake, least: float = 0.0, below: float = float("inf")) -> bool:
    """Whether four in five draws of the eaten share lie so."""
    return float(((feed.share >= least) & (feed.share < below)).mean()) >= 0.8
