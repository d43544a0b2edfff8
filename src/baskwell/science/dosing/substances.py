"""What an agent holds that limits speak of, each in the one unit it is reckoned in."""

from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches

from baskwell.evidence import Evidence
from baskwell.evidence.rows.nutrition import Agent
from baskwell.science.errors import KeeperError


@dataclass(frozen=True, slots=True)
class Substance:
    """A nutrient of the dosing ledger.

    ``unit`` is its own and never bare: an IU of one vitamin is no IU of another. ``ug_per_unit`` converts to
    micrograms (IU: foods README, Units and conversions; vitamin E in its natural form). ``column`` and
    ``per_column`` give the unit from the column of ``foods.csv``; ``words`` are how a label names it.
    """

    nutrient: str
    name: str
    unit: str
    ug_per_unit: float
    column: str
    per_column: float
    words: tuple[str, ...]

    @property
    def in_iu(self) -> bool:
        """Whether it is reckoned in international units."""
        return self.unit.startswith("IU")


SUBSTANCES: Mapping[str, Substance] = {
    row.nutrient: row
    for row in (
        Substance(
            "vitamin_A",
            "vitamin A",
            "IU retinol",
            0.3,
            "retinol_ug",
            1 / 0.3,
            ("vitamin a", "vit a", "retinol", "retinyl palmitate", "retinyl acetate"),
        ),
        Substance(
            "vitamin_D3",
            "vitamin D3",
            "IU vitamin D3",
            0.025,
            "vitamin_d3_iu",
            1.0,
            ("vitamin d3", "vit d3", "vitamin d", "vit d", "d3", "cholecalciferol", "colecalciferol"),
        ),
        Substance(
            "vitamin_E",
            "vitamin E",
            "IU vitamin E",
            670.0,
            "vitamin_e_mg",
            1 / 0.67,
            ("vitamin e", "vit e", "tocopherol"),
        ),
        Substance(
            "thiamin",
            "thiamin",
            "mg thiamin",
            1000.0,
            "thiamin_mg",
            1.0,
            ("thiamin", "thiamine", "vitamin b1", "b1"),
        ),
        Substance("calcium", "calcium", "mg calcium", 1000.0, "calcium_mg", 1.0, ("calcium", "ca")),
    )
}


def units_from_ug(nutrient: str, micrograms: float) -> float:
    """Micrograms of a substance in its own unit. Raises KeyError for a nutrient without a ledger.

    >>> round(units_from_ug("vitamin_A", 2580.0))     # worked example W11: 2.58 mg retinol is 8,600 IU
    8600
    """
    return micrograms / SUBSTANCES[nutrient].ug_per_unit


def ug_from_units(nutrient: str, units: float) -> float:
    """The other way round.

    >>> ug_from_units("vitamin_D3", 400.0)
    10.0
    """
    return units * SUBSTANCES[nutrient].ug_per_unit


def find_agent(words: str, evidence: Evidence) -> Agent | None:
    """The agent that free words name, by id, name or alias; None where none does.

    >>> from baskwell.evidence import load_evidence
    >>> found = find_agent("Retinyl palmitate", load_evidence())
    >>> found.agent_id if found else None
    'vitamin_a'
    """
    plain = _plain(words)
    if not plain:
        return None
    return next((agent for agent in evidence.agents.values() if plain in _names(agent)), None)


def agent_named(words: str, evidence: Evidence) -> Agent:
    """As ``find_agent``; raises KeeperError with the nearest names where there is none."""
    found = find_agent(words, evidence)
    if found is not None:
        return found
    near = get_close_matches(_plain(words).replace(" ", "_"), evidence.agents, n=3)
    hint = f" Did you mean {' or '.join(near)}?" if near else ""
    raise KeeperError(f"{words!r} is no agent that the evidence knows.{hint} Write the id of agents.csv.")


def substances_of(agent: Agent) -> tuple[Substance, ...]:
    """What of an agent the ledger counts.

    >>> from baskwell.evidence import load_evidence
    >>> [s.name for s in substances_of(load_evidence().agents["cod_liver_oil"])]
    ['vitamin A', 'vitamin D3']
    """
    return tuple(SUBSTANCES[nutrient] for nutrient in agent.supplies if nutrient in SUBSTANCES)


def _names(agent: Agent) -> set[str]:
    return {_plain(name) for name in (agent.agent_id, agent.name, *agent.aliases)}


def _plain(words: str) -> str:
    return " ".join(words.casefold().replace("_", " ").split())
