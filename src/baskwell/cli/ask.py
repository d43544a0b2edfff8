"""``baskwell ask FILE``: asks the next best question until nothing would change the ranking."""

import sys
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import click

from baskwell.cli.door import debug_option
from baskwell.cli.files import STREAM, write_text
from baskwell.cli.interview import Interview
from baskwell.cli.look import style_for
from baskwell.cli.review import DRAWS, Run, read_case_file, review_of
from baskwell.paper.plain import Page, Style
from baskwell.science.errors import KeeperError

if TYPE_CHECKING:
    from baskwell.science.causes.ranking import Question
    from baskwell.science.review import Review

CAUSES_TOLD = 3
NOT_KNOWN = ("", "?", "0", "d", "dk", "don't know", "dont know", "not known", "unknown")
KEYS = "Enter = don't know, b = back, q = stop and keep the answers."


@click.command(short_help="Ask what would change the ranking the most.")
@click.argument("file")
@click.option(
    "--save", metavar="FILE", help="Where the answers go (default: FILE with '.answered' before its ending)."
)
@click.option(
    "--seed", type=click.IntRange(0), default=1, show_default=True, help="Repeats a ranking exactly."
)
@click.option(
    "--draws",
    type=click.IntRange(200, 100_000),
    default=DRAWS,
    show_default=True,
    help="Possible worlds drawn.",
)
@debug_option
def ask(file: str, save: str | None, seed: int, draws: int) -> None:
    """Ask about the case in FILE what would change its ranking the most.

    FILE itself is never changed: the answers go to a copy, written after each answer.
    """
    if file == STREAM:
        raise KeeperError("ask reads the answers from standard input, so name the case file itself.")
    from baskwell.cli.known import known_evidence
    from baskwell.science.causes.questions import apply_answer

    evidence = known_evidence()
    rank = partial(review_of, run=Run(seed, draws))
    interview = Interview(read_case_file(file), rank, partial(apply_answer, evidence=evidence))
    target = save or _free_name(Path(file))
    Conversation(interview, style_for(sys.stdout), target).run()


def _free_name(file: Path) -> str:
    """A name beside the case file that nothing has yet."""
    for number in range(1, 1000):
        mark = "answered" if number == 1 else f"answered-{number}"
        name = file.with_name(f"{file.stem}.{mark}{file.suffix or '.toml'}")
        if not name.exists():
            return str(name)
    raise KeeperError(f"There are a thousand answered copies of {file} already. Use --save FILE.")


@dataclass
class Conversation:
    """The interview in a terminal: shows, reads one line, says what it did."""

    interview: Interview
    style: Style
    target: str
    _told: dict[str, float] = field(default_factory=dict)

    def run(self) -> None:
        """Ask until nothing is worth asking or the person stops; the answers are kept either way."""
        self._show_ranking()
        try:
            self._ask_all()
        finally:
            self._say(self._farewell())

    def _ask_all(self) -> None:
        while (question := self.interview.question) is not None:
            self._show_question(question)
            if not self._take(question):
                return
        self._say("No answer left would change the ranking.")

    def _take(self, question: "Question") -> bool:
        """Read one line and act on it; False where the person stops."""
        line = self._read_line()
        if line is None or line.lower() in ("q", "quit", "stop"):
            return False
        if line.lower() in ("b", "back", "undo"):
            self._go_back()
        elif line.lower() in NOT_KNOWN:
            self.interview.pass_over(question)
            self._say("Left as not known.")
        else:
            self._answer(question, line)
        return True

    def _answer(self, question: "Question", line: str) -> None:
        answer = chosen(question, line)
        if answer is None:
            self._say(f"Not one of the answers: {line}. Type its number. {KEYS}")
            return
        before = self.interview.case
        try:
            self.interview.answer(question, answer)
        except KeeperError as error:
            self._say(str(error))
            return
        if self.interview.case == before:
            self._say("Left as not known.")
            return
        self._save()
        self._show_ranking()

    def _go_back(self) -> None:
        if not self.interview.back():
            self._say("This is the first question.")
            return
        self._save()
        self._say("One step back.")
        self._show_ranking()

    def _save(self) -> None:
        from baskwell.science.case.writer import write_case

        write_text(self.target, write_case(self.interview.case))

    def _farewell(self) -> str:
        answered = self.interview.answered
        if not answered:
            return "Nothing was answered, so nothing was written."
        return f"{answered} answered; kept in {self.target}. See all of it: baskwell review {self.target}"

    def _read_line(self) -> str | None:
        click.echo(self.style.paint("> ", "act"), nl=False)
        line = sys.stdin.readline()
        if not line:
            click.echo()
            return None
        return line.strip()

    def _show_ranking(self) -> None:
        page = Page(self.style)
        ranking_so_far(page, self.interview.review, self._told)
        self._told = {c.condition_id: c.posterior.median for c in self.interview.review.ranking.causes}
        click.echo(page.text())

    def _show_question(self, question: "Question") -> None:
        page = Page(self.style)
        page.say(question.text, paint="bold")
        page.say(question.why, indent=2, paint="soft")
        page.gap()
        for number, (answer, effect) in enumerate(question.answers, start=1):
            page.item(f"{number}", f"{answer}: {effect}" if effect else answer)
        page.gap()
        page.say(KEYS, indent=2, paint="soft")
        click.echo(page.text(), nl=False)

    def _say(self, text: str) -> None:
        page = Page(self.style)
        page.say(text)
        click.echo(page.text(), nl=False)


def chosen(question: "Question", line: str) -> str | None:
    """The answer meant by a line: its number, its text, or the start of only one text."""
    answers = [answer for answer, _ in question.answers]
    if line.isdecimal():
        return answers[int(line) - 1] if 1 <= int(line) <= len(answers) else None
    meant = [answer for answer in answers if answer.lower() == line.lower()]
    meant = meant or [answer for answer in answers if answer.lower().startswith(line.lower())]
    return meant[0] if len(meant) == 1 else None


def ranking_so_far(page: Page, review: "Review", before: Mapping[str, float]) -> None:
    """Flags and the first causes, short enough to be read between two questions.

    ``before`` holds the probabilities of the causes before the last answer, by id.
    """
    from baskwell.paper import telling
    from baskwell.paper.marks import Dots
    from baskwell.paper.words import capital

    for flag in review.flags:
        if flag.level == "vet now":
            page.say(f"VET NOW: {flag.sentence}", hang=9, paint="out")
    page.heading("So far")
    marks = page.style.marks
    for cause in telling.listed_causes(review.ranking)[:CAUSES_TOLD]:
        page.say(capital(cause.name), indent=2, paint="bold")
        dots = Dots.of(cause.posterior).drawn(marks.full, marks.hatched, marks.empty)
        moved = telling.was_words(cause, before.get(cause.condition_id))
        page.picture(dots, telling.probability_words(cause) + moved, indent=2)
    page.gap()
