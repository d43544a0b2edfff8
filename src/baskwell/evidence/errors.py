"""Errors of the evidence floor."""

from collections.abc import Iterable


class UnknownKey(KeyError):  # noqa: N818  (the name is the contract with the command line)
    """A key that no evidence table holds; ``nearest`` are known keys that look like it.

    >>> str(UnknownKey("terapene", ["terrapene"]))
    "The evidence knows nothing called 'terapene'. Nearest: terrapene."
    """

    def __init__(self, key: str, nearest: Iterable[str] = ()) -> None:
        super().__init__(key)
        self.key = key
        self.nearest = tuple(nearest)

    def __str__(self) -> str:
        hint = f" Nearest: {', '.join(self.nearest)}." if self.nearest else ""
        return f"The evidence knows nothing called '{self.key}'.{hint}"


class EvidenceError(ValueError):
    """A table that cannot be read: where, which value, what is wrong and what to do.

    >>> print(EvidenceError("foods/foods.csv", 7, "water_g", "wet", "this is not a number", "Write one."))
    foods/foods.csv, line 7, column water_g: 'wet': this is not a number. Write one.
    """

    def __init__(self, file: str, line: int, column: str, value: str, wrong: str, todo: str) -> None:
        where = ", ".join(
            part
            for part in (file, f"line {line}" if line else "", f"column {column}" if column else "")
            if part
        )
        super().__init__(f"{where}: '{value}': {wrong}. {todo}")


class OwnTablesError(ValueError):
    """Own tables that do not pass the checks; ``sentences`` are all findings, one a line.

    >>> print(OwnTablesError(["own/foods.csv, line 2: 'x' is not a number. Write one."]))
    own/foods.csv, line 2: 'x' is not a number. Write one.
    """

    def __init__(self, sentences: Iterable[str]) -> None:
        self.sentences = tuple(sentences)
        super().__init__("\n".join(self.sentences))
