"""What the tests found of each agent: read in clauses, found or not found, never guessed."""

import datetime as dt
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from baskwell.evidence import Evidence
from baskwell.evidence.covers import cover_reaches
from baskwell.evidence.rows.quarantine import FreedomAgent, FreedomTest
from baskwell.science.case.model import Case, TestResult
from baskwell.science.quarantine.stay import known

NEGATIVE = (
    r"\b(negative|not found|none found|nothing found|not detected|not seen|none seen|absent|clear)\b|^no\b"
)
POSITIVE = r"\b(positive|found|detected|present|seen|few|many|some|low|moderate|heavy|high|eggs?)\b|\d|\+"
UNDONE = r"\b(pending|not done|inconclusive|unclear|not negative|doubtful|invalid|unknown)\b"

UNNAMED = "unnamed"


@dataclass(frozen=True)
class Outcome:
    """What one test says of one agent; ``at`` None where its day is not known.

    ``condition_id`` is ``UNNAMED`` for something found that the result does not name.
    """

    condition_id: str
    test_kind: str
    found: bool
    at: dt.date | None
    words: str


@dataclass(frozen=True)
class Tested:
    """All outcomes, and the results that could not be read."""

    outcomes: tuple[Outcome, ...]
    gaps: tuple[str, ...]

    def of(self, condition_id: str, test_kind: str | None = None) -> tuple[Outcome, ...]:
        """The outcomes of an agent, of one kind of test or of all."""
        return tuple(
            o for o in self.outcomes if o.condition_id == condition_id and test_kind in (None, o.test_kind)
        )


def agents_of(evidence: Evidence, taxon_id: str) -> tuple[FreedomAgent, ...]:
    """The agents an animal should be free of; of one agent the first row that covers it counts.

    >>> from baskwell.evidence import load_evidence
    >>> [agent.condition_id for agent in agents_of(load_evidence(), "testudo_graeca")][:4]
    ['nematodes', 'flagellates', 'coccidia', 'mycoplasmosis']
    """
    first: dict[str, FreedomAgent] = {}
    for row in evidence.quarantine_tables.freedom_agents:
        if cover_reaches(evidence, row.covers, taxon_id):
            first.setdefault(row.condition_id, row)
    return tuple(first.values())


def read_tested(case: Case, evidence: Evidence, now: dt.datetime) -> Tested:
    """Read every test of the examination that lies before ``now``.

    A result is read clause by clause ("pinworms 2+, otherwise negative"). A clause that says neither found
    nor not found is told as unread; an agent that was found stays found whatever the other clauses say.
    """
    agents = agents_of(evidence, case.animal.taxon)
    outcomes: list[Outcome] = []
    gaps: list[str] = []
    for test in case.exam.tests:
        at = day_of(case, test)
        if at is not None and at > now.date():
            gaps.append(f"Test '{test.test}' lies after {now:%Y-%m-%d} and is left out: check its day.")
            continue
        read = _Reading(test, at, kinds_of(test, evidence), agents, evidence)
        outcomes += read.outcomes()
        gaps += read.gaps()
    return Tested(tuple(outcomes), tuple(gaps))


def day_of(case: Case, test: TestResult) -> dt.date | None:
    """The day of a test; None where it, or the day of the examination, is not known."""
    after = known(test.days_after)
    if case.exam.date is None or after is None:
        return None
    return case.exam.date + dt.timedelta(days=after)


def kinds_of(test: TestResult, evidence: Evidence) -> tuple[str, ...]:
    """The kinds of test that the name of a test names (``test_kinds.csv``)."""
    name = test.test.lower()
    return tuple(
        row.test_kind
        for row in evidence.causes.test_kinds
        if any(re.search(rf"(?<![a-z]){re.escape(word)}", name) for word in row.words)
    )


def sense(clause: str) -> bool | None:
    """Whether a clause says found (True), not found (False) or neither (None).

    >>> sense("negative"), sense("oxyurids 2+"), sense("pending"), sense("no mites")
    (False, True, None, False)
    """
    if re.search(UNDONE, clause):
        return None
    if re.search(NEGATIVE, clause):
        return False
    return True if re.search(POSITIVE, clause) else None


@dataclass(frozen=True)
class _Reading:
    """One test being read."""

    test: TestResult
    at: dt.date | None
    kinds: tuple[str, ...]
    agents: tuple[FreedomAgent, ...]
    evidence: Evidence

    @property
    def rows(self) -> tuple[FreedomTest, ...]:
        """What is known of tests of the agents that this animal should be free of."""
        ids = {agent.condition_id for agent in self.agents}
        return tuple(r for r in self.evidence.quarantine_tables.freedom_tests if r.condition_id in ids)

    @property
    def _clauses(self) -> list[str]:
        parts = re.split(r"[;,.]|\bbut\b", self.test.result.lower().replace("_", " "))
        return [part.strip() for part in parts if part.strip()]

    @property
    def _title(self) -> str:
        return self.test.test.lower().replace("_", " ")

    def _named(self, text: str) -> tuple[str, ...]:
        """The agents that a text names, those among them that no animal of this kind is asked about."""
        rows = self.evidence.quarantine_tables.freedom_agents
        return tuple(dict.fromkeys(a.condition_id for a in rows if any(word in text for word in a.named_by)))

    def _senses(self) -> Iterator[tuple[str, bool | None]]:
        """Each clause with its sense; an agent that is merely named first was found."""
        for place, clause in enumerate(self._clauses):
            said = sense(clause)
            undone = re.search(UNDONE, clause)
            if said is None and not undone and place == 0 and self._named(clause):
                said = True
            yield clause, said

    def outcomes(self) -> Iterator[Outcome]:
        """What the clauses say; found comes before not found."""
        in_result = self._named(self.test.result.lower())
        there: dict[str, Outcome] = {}
        for clause, said in self._senses():
            about = self._named(clause) or self._named(self._title)
            if said is True:
                there |= {name: self._outcome(name, "", True) for name in about or (UNNAMED,)}
            elif said is False:
                for row in self._informed(about, in_result):
                    there.setdefault(row.condition_id, self._outcome(row.condition_id, row.test_kind, False))
        yield from there.values()

    def _informed(self, about: tuple[str, ...], in_result: tuple[str, ...]) -> Iterable[FreedomTest]:
        """The test rows for which a negative of this test counts: one an agent, the least sensitive."""
        ids = about or tuple(a.condition_id for a in self.agents if a.condition_id not in in_result)
        text = f"{self._title} {self.test.result.lower()}"
        rows = [r for r in self.rows if r.condition_id in ids and r.test_kind in self.kinds]
        special = [r for r in rows if any(word in text for word in r.only_if_named)]
        fitting = special or [r for r in rows if not r.only_if_named]
        most_first = sorted(fitting, key=lambda r: -(r.sensitivity_mode or 0.0))
        return {r.condition_id: r for r in most_first}.values()

    def _outcome(self, condition_id: str, kind: str, found: bool) -> Outcome:
        kind = kind or (self.kinds[0] if self.kinds else "")
        return Outcome(condition_id, kind, found, self.at, self.test.result)

    def gaps(self) -> Iterator[str]:
        """What could not be read, told where the test is one of those that matter here."""
        matters = {row.test_kind for row in self.rows} & set(self.kinds)
        name = f"Test '{self.test.test}'"
        if any(o.condition_id == UNNAMED for o in self.outcomes()):
            yield f"{name}: '{self.test.result}' says that something was found, not what: ask the laboratory."
        unread = [clause for clause, said in self._senses() if said is None]
        if matters and not self._clauses:
            yield f"{name} has no result: it counts as not done."
        elif matters and unread:
            yield f"{name}: '{'; '.join(unread)}' says neither found nor not found and is not counted."
