"""Free words of the history read by the table of words, ``clinical/history_words.csv``."""

import re
from collections.abc import Iterable, Sequence

from baskwell.evidence.rows.exposures import HistoryWord
from baskwell.science.draws import Draws
from baskwell.science.history.exposures.facts import Facts
from baskwell.science.history.exposures.opinion import highest

_DENIED = re.compile(r"\b(?:no|not|without|never|free of) \w+")


def plain(text: str) -> str:
    """Lower case, with everything that is no letter or digit as one space.

    >>> plain("Ground_Walnut-shell ")
    'ground walnut shell'
    """
    return " ".join(re.findall(r"[a-z0-9]+", text.lower()))


def words_in(table: Iterable[HistoryWord], field: str, text: str) -> tuple[HistoryWord, ...]:
    """The rows of the table whose word stands in a text; a longer word hides the shorter ones inside it.

    A word right after "no", "not", "without" or "never" does not count. Whole words only: "sandstone" is
    not "sand".

    >>> from baskwell.evidence import load_evidence
    >>> {row.means for row in words_in(load_evidence().history_words, "agent", "Gentamicin 5 mg/kg")}
    {'aminoglycoside'}
    """
    rest = plain(text)
    rows = [row for row in table if row.field == field and row.word in rest]
    if all(row.word != rest for row in rows):
        rest = _DENIED.sub(" ", rest)
    found: list[HistoryWord] = []
    rows.sort(key=lambda row: (-len(row.word), row.word))
    for word in dict.fromkeys(row.word for row in rows):
        shorter, times = re.subn(rf"\b{re.escape(word)}\b", "|", rest)
        if times:
            rest = shorter
            found += [row for row in rows if row.word == word]
    return tuple(found)


def chance_of(facts: Facts, field: str, texts: Sequence[str], means: str) -> Draws:
    """Probability that the most telling of some texts means ``means``, shape ``(n_draws,)``.

    0 without such a word.
    """
    rows = [row for text in texts for row in words_in(facts.evidence.history_words, field, text)]
    return highest(facts.constant(0.0), *(_chance(facts, row) for row in rows if row.means == means))


def _chance(facts: Facts, row: HistoryWord) -> Draws:
    return facts.between(f"word {row.field} {row.word} {row.means}", row.low, row.mode, row.high)


def mentions(facts: Facts, field: str, text: str, means: str) -> bool:
    """Whether a text may mean ``means`` at all."""
    return any(row.means == means for row in words_in(facts.evidence.history_words, field, text))
