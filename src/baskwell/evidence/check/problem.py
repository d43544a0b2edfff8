"""One finding of the checks."""

from dataclasses import dataclass

from baskwell.evidence.tables import Table


@dataclass(frozen=True, slots=True)
class Problem:
    """What is wrong with one cell or row, where it stands and what to do.

    ``rule`` is the word that ``exceptions.csv`` accepts a finding by; ``key`` names the row.
    """

    rule: str
    file: str
    line: int
    key: str
    column: str
    value: str
    wrong: str
    todo: str

    def __str__(self) -> str:
        return self.sentence

    @property
    def sentence(self) -> str:
        """The finding in one line for a person.

        >>> Problem("order", "a.csv", 3, "x", "low", "5", "is above high 2", "Swap them.").sentence
        "a.csv, line 3 (x), column low: '5' is above high 2. Swap them."
        """
        line = f"line {self.line}" if self.line else ""
        row = f"{line} ({self.key})".strip() if self.key else line
        column = f"column {self.column}" if self.column else ""
        where = ", ".join(part for part in (self.file, row, column) if part)
        return f"{where}: '{self.value}' {self.wrong}. {self.todo}"


def at(table: Table, index: int, column: str, rule: str, wrong: str, todo: str) -> Problem:
    """A finding about one cell of a table."""
    file, line = table.place(index)
    value = table.records[index].get(column, "")
    return Problem(rule, file, line, table.key(index), column, value, wrong, todo)
