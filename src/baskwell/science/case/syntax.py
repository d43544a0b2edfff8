"""Turn what a TOML reader complains about into a sentence with the way out."""

import re
from collections.abc import Callable

from baskwell.science.case.problem import Problem, shown
from baskwell.science.case.units import in_unit, unit_of_key

LONGEST_ROW = 300

_PLACE = re.compile(r" \(at (?:line (\d+), column (\d+)|end of document)\)$")
_HEADING = "A heading ends with as many brackets as it opens."
# Complaints that say what is wrong, whatever the line looks like.
_SURE_COMPLAINTS = ("Cannot", "Duplicate", "Invalid date")
_WORDS_OF_STATE = {"yes": "true", "no": "false", "true": "true", "false": "false"}


def explain_syntax_error(message: str, text: str) -> Problem:
    """Explain one complaint of the TOML reader about ``text``.

    >>> explain_syntax_error("Invalid value (at line 1, column 7)", "sex = male").sentence
    'Line 1: sex = male is not written the way the file needs it. Put words in quotes: sex = "male".'
    """
    place = _PLACE.search(message)
    rows = text.split("\n")
    line = int(place[1]) if place and place[1] else max(len(text.rstrip().split("\n")), 1)
    complaint = message[: place.start()] if place else message
    row = rows[line - 1].strip()[:LONGEST_ROW] if line <= len(rows) else ""
    by_complaint = complaint.startswith(_SURE_COMPLAINTS)
    help_ = (None if by_complaint else _by_row(row)) or _by_complaint(complaint)
    sentence = f"Line {line}: {_quoted(row)} is not written the way the file needs it. {help_}"
    return Problem(line, "", _quoted(row), sentence)


def _quoted(row: str) -> str:
    if not row:
        return "an empty line"
    return row if row.isprintable() and len(row) <= 60 else shown(row)


def _by_row(row: str) -> str | None:
    """Find the way out by looking at the line itself; the first matching habit is named."""
    for pattern, way_out in _HABITS:
        match = pattern.search(row)
        if match is not None:
            found = way_out(match)
            if found:
                return found
    return None


def _words(match: re.Match[str]) -> str:
    key, value = match["key"], match["value"].strip()
    state = _WORDS_OF_STATE.get(value.casefold())
    if state is not None:
        return f"Write {key} = {state}."
    return f'Put words in quotes: {key} = "{value}".'


def _number_with_unit(match: re.Match[str]) -> str | None:
    key, value = match["key"], match["value"].strip()
    unit = unit_of_key(key)
    converted = in_unit(value, unit) if unit else None
    if converted is None:
        return None
    return f"Write the number alone, the unit is in the name: {key} = {converted}."


def _decimal_comma(match: re.Match[str]) -> str:
    return f"Write decimals with a point: {match['key']} = {match['whole']}.{match['part']}."


def _bare_decimal(match: re.Match[str]) -> str:
    return f"Write a digit before and after the point: {match['key']} = {float(match['value']):g}."


def _leading_zero(match: re.Match[str]) -> str:
    return f"Write numbers without leading zeros: {match['key']} = {int(match['value'])}."


def _no_seconds(match: re.Match[str]) -> str:
    return f"A time needs its seconds: {match['day']}T{match['time']}:00."


def _other_date(match: re.Match[str]) -> str:
    return f"Write a date as year-month-day, without quotes: {match['key']} = 2026-03-14 for 14 March 2026."


def _always(sentence: str) -> Callable[[re.Match[str]], str]:
    return lambda match: sentence


_KEY = r"^(?P<key>[A-Za-z0-9_.-]+)\s*=\s*"
_END = r"\s*(?:#.*)?$"
_HABITS: tuple[tuple[re.Pattern[str], Callable[[re.Match[str]], str | None]], ...] = (
    (re.compile(r"(?P<day>\d{4}-\d\d-\d\d)[Tt ](?P<time>\d\d:\d\d)(?!:|\d)"), _no_seconds),
    (re.compile(_KEY + r"\d{1,4}[./-]\d{1,2}[./-]\d{1,4}" + _END), _other_date),
    (re.compile(_KEY + r"(?P<whole>-?\d+),(?P<part>\d+)" + _END), _decimal_comma),
    (re.compile(_KEY + r"(?P<value>-?0\d+)" + _END), _leading_zero),
    (re.compile(_KEY + r"(?P<value>-?\.\d+|-?\d+\.)" + _END), _bare_decimal),
    (re.compile(_KEY + r"(?P<value>[^\"'\[\]{}#=]*\d[^\"'\[\]{}#=]*)" + _END), _number_with_unit),
    (re.compile(_KEY + r"(?P<value>[^\W\d][^\"'\[\]{}#=,]*?)" + _END), _words),
    (re.compile(_KEY + r"(?:#|$)"), _always('Nothing stands after "=". Write a value or drop the line.')),
    (re.compile("[“”„‘’«»]"), _always('Use straight quotes, " at both ends.')),
    (re.compile(r"^[A-Za-z0-9_.-]+\s*:"), _always('Write "=" between name and value, not ":".')),
    (re.compile(r"^\[\[[^\]]*\](?!\])|^\[(?!\[)[^\]=]*$"), _always(_HEADING)),
)  # fmt: skip


def _by_complaint(complaint: str) -> str:
    for words, way_out in _COMPLAINTS:
        if words in complaint:
            return way_out
    return f"The reader says: {complaint}."


_COMPLAINTS = (
    ("Unterminated string", 'A text has no closing quote. Add " at its end.'),
    ("Illegal character '\\n'", 'A text has no closing quote on its line. Add " at its end.'),
    ("Illegal character", "A character stands here that no text may hold. Delete it and type it again."),
    (
        "Found invalid character",
        "A character stands here that no text may hold. Delete it and type it again.",
    ),
    ("Unescaped '\\'", 'A backslash stands in the text. Use "/", or put the text in \' instead of ".'),
    ("Cannot overwrite a value", "This name already has a value above. Keep one of the two."),
    ("Duplicate inline table key", "A name stands twice within the braces. Keep one of the two."),
    ("twice", "This heading already stands above. Join the two, or use [[ ]] where a list is meant."),
    ("Cannot mutate immutable", "This was already written out above as one value. Keep one of the two."),
    ("Cannot redefine namespace", "This heading already stands above. Keep one of the two."),
    ("Unclosed array", "A list has no closing bracket, or no comma between two entries. Close it with ]."),
    ("Unclosed inline table", "A { has no closing brace, or no comma between two entries. Close it with }."),
    ("Expected '='", 'Each line is a name, "=" and a value; a remark begins with #.'),
    ("Expected ']", _HEADING),
    ("Invalid date", "This day or time does not exist in the calendar. Write year-month-day: 2026-03-14."),
    (
        "Expected newline",
        "Something stands after the value. Put one value on a line; a remark begins with #.",
    ),
    ("Invalid value", 'Write a number, true or false, a date, or words in quotes ("...").'),
    (
        "Invalid statement",
        'Each line is a name, "=" and a value, or a heading in [ ]; a remark begins with #.',
    ),
    ("Invalid initial character", 'A name has letters, digits and "_"; write others in quotes.'),
)
