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
