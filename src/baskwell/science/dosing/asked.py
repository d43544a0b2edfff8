"""What is asked for, and what it is judged by; every answer is made here."""

from dataclasses import dataclass

from baskwell.evidence.rows.nutrition import Agent
from baskwell.science.dosing.book import Setting
from baskwell.science.dosing.given import INJECTED, is_named
from baskwell.science.dosing.published import published_otherwise
from baskwell.science.dosing.result import Allowance, DosePlan, Ledger, Recipe, Verdict
from baskwell.science.errors import KeeperError

CAUTION = (
    "This supports a keeper's judgement and is no prescription. Weigh the animal on the day; a veterinarian "
    "decides on injections, prescription drugs and every dose for a sick animal."
)
ROUTES = ("oral", *INJECTED, "topical", "spray", "bath")


@dataclass(frozen=True, slots=True)
class Giving:
    """How a dose is given: route (a word of the case file), the veterinarian who ordered it, days between.

    Raises KeeperError for a route that the case file does not know or fewer than one day between doses.

    >>> Giving("im", "Dr. Ines Falk").is_ordered, Giving(ordered_by="the vet").is_ordered
    (True, False)
    """

    route: str = "oral"
    ordered_by: str = ""
    every_days: int = 7

    def __post_init__(self) -> None:
        if self.route not in ROUTES:
            raise KeeperError(f"The route {self.route!r} is not known. Write one of {', '.join(ROUTES)}.")
        if self.every_days < 1:
            raise KeeperError(f"A dose every {self.every_days} days is not possible: write 1 or more days.")

    @property
    def is_ordered(self) -> bool:
        """Whether a veterinarian is named."""
        return is_named(self.ordered_by)

    @property
    def is_injected(self) -> bool:
        """Whether it goes through the skin."""
        return self.route in INJECTED


@dataclass(frozen=True)
class Asked:
    """One agent asked for, for one animal."""

    agent: Agent
    setting: Setting
    book: Ledger
    giving: Giving

    def plan(
        self,
        verdict: Verdict,
        *sentences: str,
        asks: tuple[str, ...] = (),
        allowances: tuple[Allowance, ...] = (),
        recipe: Recipe | None = None,
    ) -> DosePlan:
        """The answer, with what goes with every answer."""
        return DosePlan(
            agent_id=self.agent.agent_id,
            agent=self.agent.name,
            verdict=verdict,
            recipe=recipe,
            sentences=sentences,
            allowances=allowances,
            conflicts=published_otherwise(self.agent, self.setting.evidence),
            asks=asks,
            ledger=self.book,
            caution=CAUTION,
        )
