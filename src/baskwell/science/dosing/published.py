"""What else is published on an agent, and why it is not what a dose is reckoned by."""

from baskwell.evidence import Evidence
from baskwell.evidence.rows.nutrition import Agent, Dose
from baskwell.science.dosing.tell import figure

USES = {
    "default_limit": "shown as an ordinary limit",
    "guard": "a guard of this tool",
    "vet_only": "only inside a veterinarian's order",
    "do_not_use": "not to be used",
    "reference_only": "for comparison only",
}


def published_otherwise(agent: Agent, evidence: Evidence) -> tuple[str, ...]:
    """One sentence for every published dose of an agent, its id and who says so; nothing is averaged.

    >>> from baskwell.evidence import load_evidence
    >>> evidence = load_evidence()
    >>> told = published_otherwise(evidence.agents["vitamin_a"], evidence)
    >>> any("5,000-10,000 IU/kg" in one and "not to be used" in one for one in told)
    True
    """
    rows = [row for row in evidence.doses if row.dose_high is not None and _speaks_of(row, agent)]
    return tuple(_sentence(row) for row in rows)


def _speaks_of(row: Dose, agent: Agent) -> bool:
    words = row.agent.casefold()
    names = {name.casefold().replace("_", " ") for name in (agent.agent_id, agent.name, *agent.aliases)}
    return words in names or (" with " not in words and any(words.startswith(f"{name} ") for name in names))


def _sentence(row: Dose) -> str:
    low, high = row.dose_low, row.dose_high or 0.0
    amount = figure(high) if low in (None, high) else f"{figure(low or 0.0)}-{figure(high)}"
    how = f", {row.route}" if row.route else ""
    often = f", {row.interval}" if row.interval else ""
    whom = f"{amount} {row.unit}{how}{often} for {row.taxon}"
    return f"{whom}: {USES[row.tool_use]} ({row.source_id}; {row.row_id})."
