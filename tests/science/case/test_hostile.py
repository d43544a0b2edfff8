"""Whatever comes in, out comes a case or a ``CaseFileError``, and soon."""

import contextlib
import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baskwell.evidence import load_evidence
from baskwell.science.case import Case, CaseFileError, parse_case, read_case, write_case
from strategies import TODAY, cases

EVIDENCE = load_evidence()
GOOD = b'[animal]\ntaxon = "terrapene_carolina"\n'
KEYS = ("animal", "taxon", "history", "diet", "food", "exam", "signs", "sign", "label", "days", "mass_g", "a")
SCALARS = (
    st.sampled_from(
        (0, -1, 3.5, float("nan"), float("-inf"), 10**30, True, "unknown", "", "395 g", "\x1b", "anorexia")
    )
    | st.text(max_size=5)
    | st.dates()
    | st.datetimes()
)


def values(inner: st.SearchStrategy[object]) -> st.SearchStrategy[object]:
    """Lists and tables of values."""
    return st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(KEYS), inner, max_size=4)


@given(st.binary(max_size=200))
def test_random_bytes_are_refused_or_read(raw: bytes) -> None:
    """No other error than ``CaseFileError`` leaves the reader."""
    with contextlib.suppress(CaseFileError):
        parse_case(raw, EVIDENCE, today=TODAY)


@given(st.text(st.sampled_from("[]{}=,.\"'\\#\n ab1-:TZ\t\r"), max_size=60))
def test_random_marks_are_refused_or_read(text: str) -> None:
    """The same for text made of what TOML is made of."""
    with contextlib.suppress(CaseFileError):
        parse_case(GOOD + text.encode(), EVIDENCE, today=TODAY)


@given(st.dictionaries(st.sampled_from(KEYS), st.recursive(SCALARS, values, max_leaves=12), max_size=5))
def test_random_toml_is_refused_or_read(tables: dict[str, object]) -> None:
    """The same for valid TOML with known keys in wrong places and values of every type."""
    import tomli_w

    with contextlib.suppress(UnicodeEncodeError):
        text = tomli_w.dumps(tables)
        with contextlib.suppress(CaseFileError):
            parse_case(text, EVIDENCE, today=TODAY)


@pytest.mark.slow
@settings(max_examples=500)
@given(cases(EVIDENCE), st.data())
def test_a_damaged_case_is_refused_or_read(case: Case, data: st.DataObject) -> None:
    """A valid file with one stretch cut out, doubled or overwritten never breaks the reader."""
    raw = write_case(case).encode()
    start = data.draw(st.integers(0, len(raw)))
    end = data.draw(st.integers(start, min(len(raw), start + 20)))
    put = data.draw(
        st.binary(max_size=6) | st.just(raw[start:end] * 2) | st.sampled_from((b'"', b"[", b"\n", b"="))
    )
    with contextlib.suppress(CaseFileError):
        parse_case(raw[:start] + put + raw[end:], EVIDENCE, today=TODAY)


def refusal(raw: bytes | str) -> str:
    """Return the message of a refusal that must come within two seconds of one core."""
    start = time.process_time()
    with pytest.raises(CaseFileError) as caught:
        parse_case(raw, EVIDENCE, today=TODAY)
    assert time.process_time() - start < 2
    return str(caught.value)


def test_ten_megabytes_are_refused_unread() -> None:
    """The size alone decides, and the message says where large things belong."""
    message = refusal(b"#" * 10_000_000)
    assert "The file has 10.0 MB; a case file may have 1 MB" in message
    assert "climate_log" in message


def test_the_limit_can_be_set() -> None:
    """A caller with less patience may ask for less."""
    with pytest.raises(CaseFileError, match="may have 1e-05 MB"):
        read_case(GOOD, EVIDENCE, today=TODAY, largest_bytes=10)


@pytest.mark.parametrize(
    "text",
    [
        "[[exam.signs]]\nsign = 'anorexia'\n" * 100_000,
        "[exam]\nsigns = [" + '{sign="x"},' * 80_000 + "]",
        "[exam]\nabsent = [" + '"x",' * 70_000 + "]",
        "[animal]\n" + "".join(f"k{number} = 1\n" for number in range(60_000)),
        "[history]\nyears = " + "[" * 500_000,
        "[history]\nyears = " + "{a=" * 300_000,
        "a." * 450_000 + "a = 1",
        'notes = """' + "a" * 999_000,
        'notes = "' + "\\" * 999_000,
        "notes = " + "9" * 999_000,
        "x" * 999_000,
        "mass_g = " + "1 " * 400_000,
        "=" * 999_000,
    ],
    ids=[
        "100k signs", "inline signs", "ids", "keys", "lists", "tables", "dots", "text", "slashes", "digits",
        "word", "numbers", "equals",
    ],
)  # fmt: skip
def test_large_hostile_files_are_refused_in_time(text: str) -> None:
    """A file up to the limit, whatever it is made of, is answered within two seconds."""
    assert refusal(text)


@pytest.mark.slow
def test_the_largest_honest_file_is_read_in_time() -> None:
    """Ten years of daily weighings and meals are a case like any other."""
    rows = "".join(
        f"[[days.weights]]\nat = {2016 + day // 365}-01-{day % 28 + 1:02}T09:00:00\nmass_g = 400\n"
        for day in range(3650)
    )
    start = time.process_time()
    assert len(parse_case(GOOD + rows.encode(), EVIDENCE, today=TODAY).days.weights) == 3650
    assert time.process_time() - start < 2


@pytest.mark.parametrize(
    ("raw", "says"),
    [
        (GOOD + b'name = "Ren\xe9"', "Line 3: the byte 0xE9 is no UTF-8"),
        (b"\xff\xfe" + GOOD.decode().encode("utf-16-le"), "no plain text in UTF-8"),
        (GOOD.decode().encode("utf-16-be"), "no plain text in UTF-8"),
        (GOOD + b"\x00", "no plain text in UTF-8"),
        (b"PK\x03\x04\x00\x00", "no plain text in UTF-8"),
        (GOOD + b"name = '\x1b'", "A character stands here that no text may hold"),
    ],
    ids=["latin-1", "utf-16 with mark", "utf-16", "nul", "archive", "escape"],
)
def test_other_encodings_are_refused(raw: bytes, says: str) -> None:
    """The message names the line and asks for UTF-8."""
    assert says in refusal(raw)


def test_half_a_character_is_refused() -> None:
    """A text with a lone surrogate cannot be written to any file."""
    assert "Line 2: half a character" in refusal('[animal]\ntaxon = "\ud800"')


def test_a_byte_order_mark_is_harmless() -> None:
    """Some editors write one."""
    assert parse_case(b"\xef\xbb\xbf" + GOOD, EVIDENCE, today=TODAY).animal.taxon == "terrapene_carolina"
