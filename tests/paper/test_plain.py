"""Plain pages: width, control characters, plain ASCII."""

from hypothesis import given
from hypothesis import strategies as st

from baskwell.paper.plain import Page, Style, to_ascii


@given(st.text(max_size=300), st.integers(0, 8), st.integers(0, 8))
def test_no_line_is_wider_than_the_page(text: str, indent: int, hang: int) -> None:
    """Long words are broken rather than let out."""
    page = Page(Style())
    page.say(text, indent=indent, hang=hang)
    page.item("-", text)
    page.picture("#" * 20, text)
    assert all(len(line) <= 80 for line in page.text().splitlines())


@given(st.text(max_size=200))
def test_ascii_style_writes_only_ascii(text: str) -> None:
    """What has no ASCII reading becomes a question mark, never an error."""
    page = Page(Style(ascii_only=True))
    page.heading(text)
    assert page.text().isascii()
    assert to_ascii(text).isascii()


@given(st.text(max_size=200))
def test_control_characters_never_reach_the_terminal(text: str) -> None:
    """A name cannot recolour, move the cursor or turn the writing direction."""
    told = Style().told(text + "\x1b[2J\u202e")
    assert "\x1b" not in told
    assert "\u202e" not in told


def test_colour_is_written_only_where_it_is_on() -> None:
    """Without colour the text holds no escape sequence at all."""
    assert Style(colour=False).paint("fits", "act") == "fits"
    assert Style(colour=True).paint("fits", "act").startswith("\x1b[")


def test_a_gap_is_one_empty_line() -> None:
    """Two gaps in a row do not pile up."""
    page = Page(Style())
    page.say("a")
    page.gap()
    page.gap()
    page.say("b")
    assert page.text() == "a\n\nb\n"
