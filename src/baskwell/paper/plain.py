"""A page of plain text: wrapped, optionally coloured, and readable where only ASCII can be shown."""

import re
import textwrap
import unicodedata
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from baskwell.paper.sources import Sources

WIDTH = 80
LEAST_BESIDE = 20
_PAINTS = {"bold": "1", "out": "1;31", "act": "36", "soft": "2"}
_ASCII = str.maketrans(
    {
        "–": "-", "—": "-", "−": "-", "·": "-", "•": "*", "°": " deg ", "×": "x", "÷": "/", "µ": "u",
        "²": "2", "³": "3", "±": "+/-", "≥": ">=", "≤": "<=", "≈": "~", "…": "...", "“": '"', "”": '"',
        "‘": "'", "’": "'", "→": "->", "½": "1/2", "\u00a0": " ", "\u202f": " ", "\u2011": "-",
    }
)  # fmt: skip
_KEPT_SPACE = {
    "\n": " ",
    "\t": " ",
    "\r": " ",
    "\v": " ",
    "\f": " ",
    "\u2028": " ",
    "\u2029": " ",
    "\x85": " ",
}


@dataclass(frozen=True)
class Marks:
    """The characters that dot rows and bars are written with."""

    full: str
    hatched: str
    empty: str
    line: str
    wanted: str
    got: str
    median: str
    rule: str


UNICODE_MARKS = Marks("●", "◍", "○", "─", "░", "━", "┃", "─")
ASCII_MARKS = Marks("#", "/", ".", "-", ":", "=", "|", "-")


@dataclass(frozen=True)
class Style:
    """How a page may look: colour or not, any character or only ASCII."""

    colour: bool = False
    ascii_only: bool = False
    width: int = WIDTH

    @property
    def marks(self) -> Marks:
        """The characters of pictures in this style."""
        return ASCII_MARKS if self.ascii_only else UNICODE_MARKS

    def told(self, text: str) -> str:
        r"""The text as this style can show it: no control characters, ASCII where asked for.

        >>> Style(ascii_only=True).told("29 °C – “fits”")
        '29 deg C - "fits"'
        >>> Style().told("Tea\x1b[31msel\n")
        'Tea[31msel '
        """
        clean = "".join(_KEPT_SPACE.get(char, char) for char in text)
        clean = "".join(char for char in clean if unicodedata.category(char) not in ("Cc", "Cf", "Cs"))
        return to_ascii(clean) if self.ascii_only else clean

    def paint(self, text: str, paint: str) -> str:
        """The text in a colour, if colour is on and a paint is named."""
        if not self.colour or not paint or not text:
            return text
        return f"\x1b[{_PAINTS[paint]}m{text}\x1b[0m"


def to_ascii(text: str) -> str:
    """The nearest ASCII reading of a text; what has none becomes a question mark.

    >>> to_ascii("crème, 5–6 µg")
    'creme, 5-6 ug'
    """
    spelled = re.sub(" +deg +", " deg ", text.translate(_ASCII)) if "°" in text else text.translate(_ASCII)
    folded = unicodedata.normalize("NFKD", spelled)
    plain = "".join(char for char in folded if not unicodedata.combining(char))
    return plain.encode("ascii", "replace").decode("ascii")


@dataclass
class Page:
    """Lines of text, collected in order. No line is longer than the style's width."""

    style: Style
    lines: list[str] = field(default_factory=list)

    def gap(self) -> None:
        """One empty line, never two."""
        if self.lines and self.lines[-1]:
            self.lines.append("")

    def heading(self, text: str) -> None:
        """A section heading with a rule under it."""
        self.gap()
        self.say(text, paint="bold")
        self.lines.append(self.style.marks.rule * self.style.width)

    def say(self, text: str, *, indent: int = 0, hang: int = 0, paint: str = "") -> None:
        """A paragraph, wrapped; lines after the first are set in by ``hang`` more cells."""
        wrapped = textwrap.wrap(
            self.style.told(text),
            self.style.width,
            initial_indent=" " * indent,
            subsequent_indent=" " * (indent + hang),
            break_on_hyphens=False,
        )
        self.lines.extend(self.style.paint(line, paint) for line in wrapped)

    def item(self, mark: str, text: str, *, indent: int = 2, paint: str = "") -> None:
        """A paragraph behind a mark, the text set in under itself."""
        if text:
            self.say(f"{mark} {text}", indent=indent, hang=len(mark) + 1, paint=paint)

    def picture(self, drawn: str, caption: str, *, indent: int = 2) -> None:
        """A row of marks with words beside it, or under it where the page is narrow."""
        told = f"{' ' * indent}{drawn}  "
        width = self.style.width - len(told)
        if width < LEAST_BESIDE:
            self.lines.append(told.rstrip())
            self.say(caption, indent=indent)
            return
        first, *rest = textwrap.wrap(self.style.told(caption), width, break_on_hyphens=False) or [""]
        self.lines.append((told + first).rstrip())
        self.lines.extend(" " * len(told) + line for line in rest)

    def said(self, sources: "Sources", cell: str, *, indent: int = 2) -> None:
        """Who says so, with citations where they are known."""
        told = "; ".join(part.words for part in sources.said(cell))
        if told:
            self.say(f"Who says so: {told}", indent=indent, hang=2, paint="soft")

    def text(self) -> str:
        """The whole page, ending in one newline."""
        return "\n".join(self.lines).rstrip("\n") + "\n"
