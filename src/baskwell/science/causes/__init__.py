"""Why: which causes explain the animal's state, how sure one may be, and what to ask next."""
