"""Where it lived: heat, humidity, room, ground and care, judged against what its kind needs."""

from baskwell.science.history.surroundings.recall import (
    PlaceReading,
    SurroundingsHistory,
    recall_surroundings,
)

__all__ = ["PlaceReading", "SurroundingsHistory", "recall_surroundings"]
