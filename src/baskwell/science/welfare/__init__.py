"""Going on, or not: scores over time, what calls for a talk with the veterinarian, and who decided what.

Nothing here recommends ending a life; everything refers to a veterinarian.
"""

from baskwell.science.welfare.course import Course, welfare_course
from baskwell.science.welfare.decision import Decision, missing_in, talks
from baskwell.science.welfare.scoring import Score, Scoring, scored

__all__ = ["Course", "Decision", "Score", "Scoring", "missing_in", "scored", "talks", "welfare_course"]
