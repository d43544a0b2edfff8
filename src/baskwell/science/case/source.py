"""From the bytes of a case file to its TOML values, and every refusal on that way."""

import re
import tomllib
from dataclasses import dataclass
from typing import Any

from baskwell.science.case.lines import LineIndex, TooMuch, index_lines
from baskwell.science.case.problem import CaseFileError, Problem

LARGEST_BYTES = 1_000_000

_OTHER_ENCODINGS = (b"\xff\xfe", b"\xfe\xff", b"\x00\x00\xfe\xff")


@dataclass(frozen=True)
class Source:
    """The values of a case file and the lines on which they stand."""

    values: dict[str, Any]
    lines: LineIndex


def load_source(text: str | bytes, largest_bytes: int = LARGEST_BYTES) -> Source:
    r"""Read the TOML of a case file; every failure is a ``CaseFileError`` with one sentence.

    ``largest_bytes`` is the size above which a file is refused unread.

    >>> load_source('[animal]\nmass_g = 395').values
    {'animal': {'mass_g': 395}}
    """
    decoded = _decoded(text, largest_bytes)
    try:
        lines = index_lines(decoded)
        return Source(tomllib.loads(decoded), lines)
    except TooMuch as error:
        raise _refusal(error.line, f"Line {error.line}: {error}") from None
    except tomllib.TOMLDecodeError as error:
        from baskwell.science.case.syntax import explain_syntax_error

        problem = explain_syntax_error(str(error), decoded)
        raise CaseFileError([problem]) from None
    except (ValueError, RecursionError, OverflowError):
        raise _too_many_digits(decoded) from None


def _decoded(text: str | bytes, largest_bytes: int) -> str:
    if len(text) > largest_bytes:
        size, most = len(text) / 1e6, largest_bytes / 1e6
        raise _refusal(
            None,
            f"The file has {size:.1f} MB; a case file may have {most:g} MB, and a full one has about 0.01. "
            "Is it the right file? A climate log stays in its own file, named by climate_log.",
        )
    raw = text if isinstance(text, bytes) else _encoded(text)
    if raw.startswith(_OTHER_ENCODINGS) or b"\x00" in raw:
        raise _refusal(None, "The file is no plain text in UTF-8. Save it as text with the encoding UTF-8.")
    return _utf8(raw)


def _encoded(text: str) -> bytes:
    try:
        return text.encode("utf-8")
    except UnicodeEncodeError as error:
        line = text.count("\n", 0, error.start) + 1
        raise _refusal(line, f"Line {line}: half a character (a lone surrogate). Type it again.") from None


def _utf8(raw: bytes) -> str:
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        sentence = (
            f"Line {line}: the byte 0x{raw[error.start]:02X} is no UTF-8, so a letter such as é or ° cannot "
            "be read. Save the file again with the encoding UTF-8."
        )
        raise _refusal(line, sentence) from None


def _too_many_digits(text: str) -> CaseFileError:
    digits = re.search(r"\d{400,}", text)
    line = text.count("\n", 0, digits.start()) + 1 if digits else None
    place = f"Line {line}" if line else "The file"
    return _refusal(line, f"{place}: a number has far too many digits. Write it in its unit, in few digits.")


def _refusal(line: int | None, sentence: str) -> CaseFileError:
    return CaseFileError([Problem(line, "", "", sentence)])
