"""The course of an interview: which question next, what has been answered, one step back, when to stop.

It holds no screen and reads no keys, so that it can be tested and later drive a page as well.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from baskwell.science.case.model import Case
    from baskwell.science.causes.ranking import Question
    from baskwell.science.review import Review


@dataclass(frozen=True)
class _Step:
    case: "Case"
    review: "Review"
    passed: frozenset[str]


@dataclass
class Interview:
    """One case, asked about until nothing would change the ranking.

    ``review`` ranks a case; ``apply`` puts an answer into it.
    """

    case: "Case"
    review_case: Callable[["Case"], "Review"]
    apply_answer: Callable[["Case", "Question", str], "Case"]
    answered: int = 0
    _steps: list[_Step] = field(default_factory=list)
    _passed: frozenset[str] = frozenset()
    review: "Review" = field(init=False)

    def __post_init__(self) -> None:
        self.review = self.review_case(self.case)

    @property
    def question(self) -> "Question | None":
        """The best question left, None where no answer would change the ranking."""
        from baskwell.science.causes.questions import would_change_nothing

        return next((q for q in self.open_questions if not would_change_nothing((q,))), None)

    @property
    def open_questions(self) -> "tuple[Question, ...]":
        """Questions neither answered nor passed over, best first."""
        return tuple(q for q in self.review.ranking.questions if q.key not in self._passed)

    def answer(self, question: "Question", answer: str) -> None:
        """Put an answer into the case and rank again; an answer that tells nothing is a pass.

        KeeperError from ``apply_answer`` leaves everything as it was.
        """
        case = self.apply_answer(self.case, question, answer)
        if case == self.case:
            self.pass_over(question)
            return
        review = self.review_case(case)
        self._keep()
        self.case, self.review = case, review
        self._passed |= {question.key}
        self.answered += 1

    def pass_over(self, question: "Question") -> None:
        """Nobody knows: leave it unknown and go on."""
        self._keep()
        self._passed |= {question.key}

    def back(self) -> bool:
        """Undo the last answer or pass; False where there is none."""
        if not self._steps:
            return False
        step = self._steps.pop()
        self.answered -= step.case != self.case
        self.case, self.review, self._passed = step.case, step.review, step.passed
        return True

    def _keep(self) -> None:
        self._steps.append(_Step(self.case, self.review, self._passed))
