"""Mass over time."""
