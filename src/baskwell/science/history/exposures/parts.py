"""What the rules need of the other parts of the history, and nothing more."""

from collections.abc import Callable, Mapping
from typing import Protocol

from baskwell.evidence.rows.foods import Food
from baskwell.evidence.rows.surroundings import Substrate
from baskwell.science.draws import Draws
from baskwell.science.history.finding import Finding


class Part(Protocol):
    """A part of the history with its findings."""

    @property
    def findings(self) -> tuple[Finding, ...]:
        """All findings of this part."""
        ...

    @property
    def gaps(self) -> tuple[str, ...]:
        """What could not be used and why, as sentences."""
        ...


class LightPart(Part, Protocol):
    """The light recalled: whether there was UVB at all, and how much, in every possible world."""

    @property
    def uvb_source(self) -> str:
        """``known``, ``none``, ``unlisted`` (lights named, none gives UVB) or ``unknown``."""
        ...

    @property
    def source_because(self) -> str:
        """Why, in one sentence."""
        ...

    @property
    def uv_index(self) -> Draws | None:
        """UV index at the back now, shape ``(n_draws,)``; None where nothing is known."""
        ...

    @property
    def uv_index_new(self) -> Draws | None:
        """The same with the lamps as new."""
        ...


class PlacePart(Protocol):
    """One place in which it lived."""

    @property
    def inferred(self) -> tuple[str, ...]:
        """Finding ids of temperatures that nobody measured."""
        ...

    @property
    def floor_share(self) -> Draws | None:
        """Floor over what the middle published rule asks for, shape ``(n_draws,)``; None = not known."""
        ...

    @property
    def substrates(self) -> tuple[Substrate, ...]:
        """The materials on the floor, in order of time."""
        ...


class SurroundingsPart(Part, Protocol):
    """The surroundings recalled: the usual place, and those of other seasons or earlier."""

    @property
    def place(self) -> PlacePart:
        """The usual place."""
        ...

    @property
    def periods(self) -> Mapping[str, PlacePart]:
        """The other places by season or time."""
        ...


class DietPart(Part, Protocol):
    """The diet recalled: findings, and the share of chosen foods in every possible world."""

    def share_of(self, chosen: Callable[[Food], bool]) -> Draws:
        """Share of the dry matter from the foods for which ``chosen`` holds, shape ``(n_draws,)``."""
        ...

    def as_fed_share_of(self, chosen: Callable[[Food], bool]) -> Draws:
        """The same share of the weight as fed."""
        ...

    def item_shares_as_fed(self) -> Mapping[str, Draws]:
        """Share of the weight as fed by each food told of, by food, label or group id."""
        ...
