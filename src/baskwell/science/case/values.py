"""Read words, ids, dates and texts: one reader for each kind of field."""

import datetime as dt
import unicodedata
from collections.abc import Callable, Mapping
from typing import Any

from baskwell.science.case.amounts import read_amount, read_guarantees
from baskwell.science.case.fields import Kind, Spec
from baskwell.science.case.numbers import (
    is_number,
    is_unknown,
    read_flag_or_count,
    read_integer,
    read_number,
    read_pair,
)
from baskwell.science.case.problem import Refused, shown
from baskwell.science.case.sheet import Spot
from baskwell.science.case.vocabulary import in_words, nearest, quoted, tidy_spelling

EARLIEST_YEAR = 1900
_STATES = {"yes": "true", "y": "true", "true": "true", "no": "false", "n": "false", "false": "false"}
_LONGEST_LIST = 16

Reader = Callable[[Spot, Spec, Any], Any]


def read_flag(spot: Spot, spec: Spec, raw: Any) -> bool | str:
    """Read true or false, or one of the words that a field allows beside them."""
    if isinstance(raw, bool):
        return raw
    if isinstance(raw, str) and tidy_spelling(raw) in spec.vocabulary:
        return tidy_spelling(raw)
    allowed = in_words(["true", "false", *(f'"{word}"' for word in spec.vocabulary)])
    state = _STATES.get(tidy_spelling(raw)) if isinstance(raw, str) else None
    help_ = f"Write {spot.key} = {state}, without quotes." if state else f"Write {allowed}, without quotes."
    raise Refused(f"{shown(raw)} is neither true nor false. {help_}")


def read_text(spot: Spot, spec: Spec, raw: Any) -> str:
    """Read free words; a bare number is taken as it is written."""
    if is_number(raw):
        return shown(raw)
    if not isinstance(raw, str):
        raise Refused(f'{shown(raw)} is no text. Put words in quotes: {spot.key} = "...".')
    if any(unicodedata.category(sign) == "Cc" and sign not in "\n\t" for sign in raw):
        raise Refused(f"{shown(raw)} holds a control character. Delete it and type the words again.")
    return "" if is_unknown(raw) else raw


def read_texts(spot: Spot, spec: Spec, raw: Any) -> tuple[str, ...]:
    """Read a list of free words; one text alone is a list of one, an unknown entry is left out."""
    read = _each(spot, spec, raw, read_text)
    return tuple(text for text in read if text)


def read_word(spot: Spot, spec: Spec, raw: Any) -> str:
    """Read one word of a fixed list."""
    known = {tidy_spelling(word): word for word in spec.vocabulary}
    known.update(spec.aliases or {})
    if isinstance(raw, str):
        found = known.get(tidy_spelling(raw))
        if found is not None:
            return found
    close = nearest(raw, known, 1) if isinstance(raw, str) else []
    meant = f'Did you mean "{known[close[0]]}"? ' if close else ""
    allowed = quoted(spec.vocabulary)
    raise Refused(f'{shown(raw)} is no word for {spot.key}. {meant}Write {allowed}, or "unknown".')


def read_words(spot: Spot, spec: Spec, raw: Any) -> tuple[str, ...]:
    """Read a list of words of a fixed list."""
    return tuple(dict.fromkeys(_each(spot, spec, raw, read_word)))


def read_word_or_number(spot: Spot, spec: Spec, raw: Any) -> Any:
    """Read a word of a fixed list, a number or a range."""
    if isinstance(raw, str) and tidy_spelling(raw) in spec.vocabulary:
        return tidy_spelling(raw)
    try:
        return read_number(spot, spec, raw)
    except Refused as refused:
        words = quoted(spec.vocabulary)
        raise Refused(f"{refused} The words {words} may stand too.") from None


def read_id(spot: Spot, spec: Spec, raw: Any) -> str:
    """Read one id of an evidence table, or one of the words that a field allows beside them."""
    if not isinstance(raw, str):
        raise Refused(f'{shown(raw)} is no id. Write it in quotes: {spot.key} = "...".')
    words = spot.sheet.words
    found = words.resolve(raw, spec.vocabulary)
    if found is not None:
        return found
    close = words.suggest(raw, spec.vocabulary)
    meant = f" Did you mean {quoted(close)}?" if close else ""
    raise Refused(
        f"{shown(raw)} is not known as {words.describe(spec.vocabulary)}.{meant}{_all_ids(spot, spec)}"
    )


def read_ids(spot: Spot, spec: Spec, raw: Any) -> tuple[str, ...]:
    """Read a list of ids; one id alone is a list of one, an unknown entry is left out."""
    return tuple(dict.fromkeys(_each(spot, spec, raw, read_id)))


def read_date(spot: Spot, spec: Spec, raw: Any) -> dt.date:
    """Read a calendar day that is not in the future."""
    day = raw.date() if isinstance(raw, dt.datetime) else raw
    if not isinstance(day, dt.date):
        raise Refused(f"{shown(raw)} is no date. {_date_help(spot, raw)}")
    _refuse_impossible_day(spot, day, raw)
    return day


def read_moment(spot: Spot, spec: Spec, raw: Any) -> dt.datetime:
    """Read a day with its local time, not in the future."""
    example = f"{spot.key} = 2026-03-14T09:10:00"
    if not isinstance(raw, dt.datetime):
        raise Refused(f"{shown(raw)} is no day with a time. Write both, without quotes: {example}.")
    if raw.tzinfo is not None:
        raise Refused(f"{shown(raw)} names a time zone. Write the time on the clock alone: {example}.")
    _refuse_impossible_day(spot, raw.date(), raw)
    return raw


def _each(spot: Spot, spec: Spec, raw: Any, reader: Reader) -> list[Any]:
    """Read every entry of a list, so that all wrong ones are told at once."""
    read = []
    for place, one in enumerate(raw if isinstance(raw, list) else [raw]):
        if is_unknown(one):
            continue
        here = spot.at(place) if isinstance(raw, list) else spot
        try:
            read.append(reader(here, spec, one))
        except Refused as refused:
            here.refuse(str(refused), one)
    return read


def _all_ids(spot: Spot, spec: Spec) -> str:
    """List the ids where there are few enough to read."""
    ids = [id_ for source in spec.vocabulary for id_ in spot.sheet.words.ids(source)]
    return f" All that may stand: {', '.join(ids)}." if len(ids) <= _LONGEST_LIST else ""


def _date_help(spot: Spot, raw: Any) -> str:
    try:
        return f"Write it without quotes: {spot.key} = {dt.date.fromisoformat(str(raw).strip())}."
    except ValueError:
        return f"Write year-month-day, without quotes: {spot.key} = 2026-03-14."


def _refuse_impossible_day(spot: Spot, day: dt.date, raw: Any) -> None:
    if day > spot.sheet.today:
        raise Refused(
            f"{shown(raw)} lies in the future (today is {spot.sheet.today}). Check the year and the month."
        )
    if day.year < EARLIEST_YEAR:
        raise Refused(f"{shown(raw)} lies before {EARLIEST_YEAR}. Check the year.")


READERS: Mapping[Kind, Reader] = {
    "number": read_number,
    "integer": read_integer,
    "flag": read_flag,
    "flag_or_count": read_flag_or_count,
    "text": read_text,
    "texts": read_texts,
    "word": read_word,
    "words": read_words,
    "word_or_number": read_word_or_number,
    "id": read_id,
    "ids": read_ids,
    "date": read_date,
    "moment": read_moment,
    "amount": read_amount,
    "pair": read_pair,
    "guarantees": read_guarantees,
}
