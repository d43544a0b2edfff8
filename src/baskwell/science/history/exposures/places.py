"""Where it lived, now and before, as the rules look at it."""

from baskwell.science.case.model import Surroundings
from baskwell.science.history.exposures.facts import Facts


def here(facts: Facts) -> Surroundings:
    """The surroundings told of; all unknown where none are."""
    return facts.case.history.surroundings or Surroundings()


def places(facts: Facts) -> tuple[Surroundings, ...]:
    """The surroundings and those of other times of the year or earlier."""
    return (here(facts), *facts.case.history.periods)
