"""baskwell: find the cause of a surrendered reptile's state, and make the plan that mends it."""

__version__ = "0.1.0"
