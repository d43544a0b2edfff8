"""May it leave quarantine: gates, freedom from each agent, and how to keep it apart."""

from baskwell.science.quarantine.quarantine import judge_quarantine
from baskwell.science.quarantine.result import Freedom, Gate, Practice, Quarantine, State

__all__ = ["Freedom", "Gate", "Practice", "Quarantine", "State", "judge_quarantine"]
