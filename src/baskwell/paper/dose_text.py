"""A dose plan and its ledger as plain text."""

from baskwell.paper.plain import Page, Style
from baskwell.science.dosing import Account, DosePlan, Entry, Ledger, LimitCheck

VERDICTS = {
    "recipe": "May be given, measured like this",
    "recorded": "Recorded as a veterinarian's order",
    "refused": "Not to be given",
    "asks": "No dose yet: an answer is missing",
}
_PAINT = {"recipe": "act", "recorded": "bold", "refused": "out", "asks": "bold"}
_ORDER = ("over", "may be over", "not known", "within")
NOTHING = "Nothing was told that brings vitamin A, D3, E, thiamin or calcium."
OF_NOTE = 0.01  # share of all that goes on of one substance from which a food is worth a line


def plan_as_text(plan: DosePlan, style: Style, *, full: bool = False) -> str:
    """Render a plan: the answer first, what it rests on after it; ``full`` adds every limit and source."""
    page = Page(style)
    _alarms(page, plan.ledger)
    page.heading(f"{plan.agent[0].upper()}{plan.agent[1:]}")
    page.say(f"{VERDICTS[plan.verdict]}.", paint=_PAINT[plan.verdict])
    for sentence in plan.sentences:
        page.item("-", sentence)
    for ask in plan.asks:
        page.item("?", ask, paint="bold")
    if full:
        _listed(page, "Every limit, the strictest first", tuple(one.sentence for one in plan.allowances))
        _listed(page, "What is published, not averaged", plan.conflicts)
        _book(page, plan.ledger, full)
    _end(page, plan.caution, full)
    return page.text()


def ledger_as_text(book: Ledger, caution: str, style: Style, *, full: bool = False) -> str:
    """Render a ledger: alarms, then what was had of each substance against its limits."""
    page = Page(style)
    _alarms(page, book)
    _book(page, book, full)
    _end(page, caution, full)
    return page.text()


def _alarms(page: Page, book: Ledger) -> None:
    if book.alarms:
        page.heading("Ask a veterinarian now")
        for alarm in book.alarms:
            page.item("!", alarm, paint="out")


def _book(page: Page, book: Ledger, full: bool) -> None:
    kept = [account for account in book.accounts if account.entries]
    for account in kept:
        _account(page, account, full)
    if not kept:
        page.heading("Ledger")
        page.say(NOTHING)
    _listed(page, "For a veterinarian to order", book.drugs)
    _listed(page, "Not counted", book.gaps)


def _account(page: Page, account: Account, full: bool) -> None:
    page.heading(f"{account.name[0].upper()}{account.name[1:]}")
    for entry in _worth_telling(account) if not full else account.entries:
        page.item("-", entry.sentence)
    for check in _checks(account, full):
        page.item("=", check.sentence, paint={"over": "out", "may be over": "bold"}.get(check.standing, ""))
    if not account.checks:
        page.item("=", "The evidence holds no limit on it for this animal.")
    for ask in account.asks:
        page.item("?", ask, paint="bold")


def _checks(account: Account, full: bool) -> list[LimitCheck]:
    """Every check, the worst first; in short one of each limit, or the nearest where all are kept."""
    ordered = sorted(account.checks, key=lambda check: _ORDER.index(check.standing))
    if full:
        return ordered
    nearest = sorted(account.checks, key=_share_used, reverse=True)[:1]
    first = {check.evidence_id: check for check in reversed(ordered)}
    shown = sorted(first.values(), key=lambda check: _ORDER.index(check.standing))
    return [check for check in shown if check.standing != "within"] or nearest


def _share_used(check: LimitCheck) -> float:
    if check.got is None or check.limit <= 0:
        return 0.0
    return check.got.median / check.limit


def _worth_telling(account: Account) -> list[Entry]:
    """What was given, and of the food what brings more than a trace of all."""
    whole = sum(entry.got.median for entry in account.entries if entry.got is not None)
    return [
        entry
        for entry in account.entries
        if entry.got is None or entry.origin != "food" or entry.got.median > OF_NOTE * whole
    ]


def _listed(page: Page, heading: str, sentences: tuple[str, ...]) -> None:
    if sentences:
        page.heading(heading)
        for sentence in sentences:
            page.item("-", sentence)


def _end(page: Page, caution: str, full: bool) -> None:
    page.gap()
    page.say(caution)
    if not full:
        page.say("All limits, sources and the whole ledger: --full.", paint="soft")
