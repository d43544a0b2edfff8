"""Whether something told of happened within the time in which it matters."""

from baskwell.science.case.model import When
from baskwell.science.draws import Draws
from baskwell.science.history.exposures.facts import Facts
from baskwell.science.history.exposures.timing import share_at_most, weeks_before


def lately(facts: Facts, when: When, window_id: str, undated_id: str) -> Draws:
    """Share of a stated time that lies inside a window, shape ``(n_draws,)``.

    ``window_id`` names the judgement row with the window in weeks, ``undated_id`` the one that tells how
    probable it is that something without a time was that recent.
    """
    weeks = weeks_before(when, facts.case.exam.date)
    if weeks is None:
        return facts.judgement(undated_id)
    return share_at_most(weeks, facts.judgement(window_id))
