"""Every form with something wrong in it: where it stands, how it is spoilt, and what is pressed to keep it."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from playwright.sync_api import Page

from tests.e2e.stops import Rows

Deed = Callable[[Page], object]
KEEP = ".page-actions .btn-primary"
NO_NUMBER = "1,2,3"


@dataclass(frozen=True)
class Form:
    """`keep` names the button pressed; None: the form says what is wrong while one types."""

    name: str
    path: str
    spoil: Deed
    keep: str | None = KEEP


def typed(nth: int, words: str = NO_NUMBER, within: str = "main") -> Deed:
    """Type into a number box."""
    return lambda page: page.locator(f"{within} input[inputmode=decimal]").nth(nth).fill(words)


def cleared(page: Page) -> object:
    """Empty the first box with words."""
    return page.locator("main input[type=text]:not([inputmode])").first.fill("")


def _region(page: Page) -> object:
    page.locator("main input[type=text]:not([inputmode])").first.fill("North part")
    return page.locator("main input[type=radio][value=part]").check(force=True)


def _survey(page: Page) -> object:
    page.locator(".page-actions .btn-primary").click()
    return page.locator("dialog input[type=date]").fill("2099-01-01")


def _all_folds(then: Deed) -> Deed:
    def unfold(page: Page) -> object:
        page.evaluate("() => document.querySelectorAll('main details').forEach((fold) => { fold.open = true; })")
        return then(page)

    return unfold


def _crew_hours(page: Page) -> object:
    return page.locator(".crew-person input[inputmode=decimal]").first.fill("99")


def _upside_down(page: Page) -> object:
    page.locator(".crew-person input[inputmode=decimal]").first.fill("4")
    page.evaluate("() => document.querySelectorAll('main details').forEach((fold) => { fold.open = true; })")
    page.locator(".handing-fold").nth(1).locator("> .deeds .btn").first.click()
    page.locator(".forecast-day input").nth(0).fill("20")
    return page.locator(".forecast-day input").nth(1).fill("5")


def _size_of_known_kind(page: Page) -> object:
    page.locator(".mark-kinds input[type=radio]").nth(0).check(force=True)
    return page.locator(".marking input[inputmode=decimal]").first.fill("99999999")


def _gate(page: Page) -> object:
    page.locator(".gate-form > summary").click()
    return page.locator(".gate-form input[inputmode=decimal]").first.fill("99")


def _nothing(_page: Page) -> object:
    return None


def forms(rows: list[dict[str, Any]]) -> list[Form]:
    """Return the table, with ids of the demo."""
    known = Rows(rows)
    flat, defect, tickets = known.side("flat"), known.defect(), known.tickets_by_last_step()
    fresh, storm = known.of("defect", elevation_id=flat)[0]["id"], known.of("storm")[-1]["id"]
    finish, mark = known.of("finish")[0]["id"], f"/mark/new?elevation={flat}"
    return [
        Form("site-new", "/site/new", _nothing),
        Form("site", f"/site/{known.of('site')[0]['id']}", _all_folds(typed(-1))),
        Form("structure-new", "/structure/new", typed(0, "12")),
        Form("structure", f"/structure/{known.of('structure')[0]['id']}", typed(0)),
        Form("elevation-new", f"/elevation/new?structure={known.of('structure')[0]['id']}", typed(0, "4,5")),
        Form("elevation", f"/elevation/{flat}/edit", typed(0, "0")),
        Form("finish-new", f"/finish/new?elevation={flat}", _nothing),
        Form("finish-part", f"/finish/new?elevation={flat}", _region),
        Form("storm-new", "/storm/new", cleared),
        Form("storm", f"/storm/{storm}/edit", typed(0, "-3")),
        Form("hours", f"/storm/{storm}/hours", typed(2)),
        Form("survey", "/walls", _survey, "dialog .btn-primary"),
        Form("mark-no-place", mark, _nothing),
        Form("mark-crossed", f"{mark}&shape=outline&points=1,1;2,2;2,1;1,2", _nothing),
        Form("mark-size", f"{mark}&points=1,1", _size_of_known_kind),
        Form("reading", f"/defect/{defect}/reading", typed(0, "99999999")),
        Form("ticket-new", f"/ticket/new?defects={fresh}", typed(0, "900000")),
        Form("ticket", f"/ticket/{tickets['open']}?edit=1", typed(-1)),
        Form("step-done", f"/ticket/{tickets['taken']}?step=done", typed(-1, "-4")),
        Form("score", f"/finish/{finish}/score", _nothing),
        Form("workday-hours", "/workday/new", _crew_hours),
        Form("workday-forecast", "/workday/new", _upside_down),
        Form("mix", "/mix/lime_base_coat", typed(0, "0"), None),
        Form("gate", "/buying", _gate, None),
    ]
