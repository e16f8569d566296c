"""Every screen of the app with real ids of the demo, and what is asked of each as it stands."""

import json
import os
import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from playwright.sync_api import Page

from tests.e2e.photo import on_screen

WEB = Path(__file__).resolve().parents[2] / "web" / "src"

# Pull all rows this device may see, as its own sync does.
_PULL = """async () => {
  const me = await (await fetch("/api/me")).json();
  let since = {}, rows = [], more = true;
  while (more) {
    const answer = await (await fetch("/api/sync/pull", {
      method: "POST", headers: {"Content-Type": "application/json", "X-CSRF": me.csrf},
      body: JSON.stringify({v: 1, epoch: me.epoch, since, limit: 500}),
    })).json();
    rows = rows.concat(answer.rows); since = answer.since; more = answer.more;
  }
  return rows.filter((row) => !row.deleted).map((row) => ({id: row.id, type: row.type, ...row.d}));
}"""

# Loaded: a heading, nothing still opening, no picture on its way.
_LOADED = """() => document.querySelector("h1") && !document.querySelector(".splash")
  && [...document.images].every((image) => image.complete) && document.fonts.status === "loaded" """

# What is on the page and wrong for an eye, each as a sentence; what a thumb needs is in reach.py.
_FAULTS = """() => {
  const faults = [];
  const say = (node, what) => faults.push(
    `${what}: <${node.tagName.toLowerCase()} class="${node.getAttribute("class") ?? ""}"> `
    + `${(node.getAttribute("aria-label") ?? node.textContent ?? "").trim().slice(0, 60)}`);
  const root = document.documentElement;
  if (root.scrollWidth > innerWidth) faults.push(`the page is ${root.scrollWidth} px wide on ${innerWidth}`);
  const shown = (node) => node.checkVisibility({visibilityProperty: true}) && !node.closest(".unseen, [inert]");
  for (const box of document.querySelectorAll("main, main *, .page-head, .page-actions, nav")) {
    if (box.closest("svg") || !shown(box)) continue;
    const style = getComputedStyle(box);
    if (style.overflowX !== "visible" && style.overflowX !== "clip" && box.scrollWidth > box.clientWidth + 1
        && !box.matches("input, textarea, select, .wall-frame")) {
      say(box, `${box.scrollWidth - box.clientWidth} px cut off or to be scrolled sideways`);
    }
    const edge = box.getBoundingClientRect();
    if (edge.width > 0 && (edge.right > innerWidth + 1 || edge.left < -1)) say(box, "reaches beyond the screen");
  }
  for (const text of document.querySelectorAll("svg:not(.wall-layer) text")) {
    const [own, frame] = [text.getBoundingClientRect(), text.ownerSVGElement.getBoundingClientRect()];
    if (shown(text) && (own.left < frame.left - 1 || own.right > frame.right + 1)) say(text, "cut off by its drawing");
  }
  const words = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (words.nextNode()) {
    const text = words.currentNode.data;
    const wordless = /\\{\\w+\\}|\\bundefined\\b|\\bnull\\b|\\bNaN\\b|\\[object |^[a-z]+(_[a-z]+)+$/;
    if (wordless.test(text.trim())) faults.push(`not words: ${text.trim().slice(0, 80)}`);
    const twice = /(?:^|\\s)(\\p{L}{2,}) \\1(?=\\s|$)/iu.exec(text);
    if (twice) faults.push(`said twice: ${twice[1]}: ${text.trim().slice(0, 80)}`);
    const parent = words.currentNode.parentElement;
    if (!parent || !shown(parent) || parent.closest("svg, script, style")) continue;
    if (getComputedStyle(parent).hyphens === "auto") continue;
    for (const word of text.matchAll(/\\p{L}{4,}/gu)) {
      const range = document.createRange();
      range.setStart(words.currentNode, word.index);
      range.setEnd(words.currentNode, word.index + word[0].length);
      const lines = new Set([...range.getClientRects()].map((one) => Math.round(one.top)));
      if (lines.size > 1) say(parent, `broken inside a word: ${word[0]}`);
    }
  }
  return faults;
}"""


@dataclass(frozen=True)
class Stop:
    """One screen as it is looked at: its route in App.tsx, its address, and what to do before looking."""

    name: str
    route: str
    path: str
    first: Callable[[Page], object] | None = None


def rows_here(page: Page) -> list[dict[str, Any]]:
    """Return every row the device on this page may see."""
    found: list[dict[str, Any]] = page.evaluate(_PULL)
    return found


def routes() -> set[str]:
    """Return every pattern that App.tsx knows."""
    return set(re.findall(r'^  \["(/[^"]*)", ', (WEB / "views" / "App.tsx").read_text(encoding="utf-8"), re.MULTILINE))


def settle(page: Page) -> None:
    """Wait until the screen shows what it has to show."""
    page.wait_for_function(_LOADED)


def faults(page: Page) -> list[str]:
    """Return what is cut off or no words."""
    found: list[str] = page.evaluate(_FAULTS)
    return found


def photograph(page: Page, file: Path) -> None:
    """Take a picture of the screen; with MAKEGOOD_WHOLE_PICTURES set, with what lies below the fold."""
    if "MAKEGOOD_WHOLE_PICTURES" not in os.environ:
        page.screenshot(path=file)
        return
    size = page.viewport_size or {"width": 0, "height": 0}
    below = page.evaluate("() => { const main = document.querySelector('main'); return main.scrollHeight - main.clientHeight; }")
    if below > 0:
        page.set_viewport_size({"width": size["width"], "height": size["height"] + below})
    page.screenshot(path=file)
    if below > 0:
        page.set_viewport_size(size)


def _name_kind(nth: int) -> Callable[[Page], object]:
    return lambda page: page.locator(".mark-kinds input[type=radio]").nth(nth).check(force=True)


def _all_kinds(page: Page) -> object:
    return page.locator(".mark-kinds .deeds button").first.click()


def _view(nth: int) -> Callable[[Page], object]:
    return lambda page: page.locator(".views input[type=radio]").nth(nth).check(force=True)


class Rows:
    """The demo's rows, asked for by type."""

    def __init__(self, rows: list[dict[str, Any]]) -> None:
        self._rows = rows

    def of(self, kind: str, **wanted: Any) -> list[dict[str, Any]]:
        """Return the rows of a type with these fields."""
        typed = (one for one in self._rows if one["type"] == kind)
        return [one for one in typed if all(one.get(name) == to for name, to in wanted.items())]

    def side(self, surface: str) -> str:
        """Return the elevation of this shape on which most was found."""
        found = [one for one in self.of("elevation") if one["surface"]["kind"] == surface]
        return str(max(found, key=lambda one: len(self.of("defect", elevation_id=one["id"])))["id"])

    def defect(self) -> str:
        """Return the defect that was looked at most often."""
        return str(max(self.of("defect"), key=lambda one: (len(self.of("reading", defect_id=one["id"])), one["id"]))["id"])

    def tickets_by_last_step(self) -> dict[str, str]:
        """Return one ticket for each last step; `open` has none."""
        found = {}
        for ticket in self.of("ticket"):
            steps = sorted(self.of("step", ticket_id=ticket["id"]), key=lambda step: step["at"])
            found[steps[-1]["kind"] if steps else "open"] = ticket["id"]
        return found


def stops(rows: list[dict[str, Any]]) -> list[Stop]:
    """Return the walk through every route, on rows that show the most."""
    known = Rows(rows)
    return [*_building(known), *_walls(known), *_marks(known), *_tickets(known), *_lasting(known), *_others(known)]


def _lasting(rows: Rows) -> list[Stop]:
    looked = max(rows.of("finish"), key=lambda one: (len(rows.of("score", finish_id=one["id"])), one["id"]))
    finish, side = f"/finish/{looked['id']}", f"/elevation/{looked['elevation_id']}"
    return [
        Stop("finish", "/finish/:id", finish),
        Stop("score", "/finish/:id/score", f"{finish}/score"),
        Stop("here", "/elevation/:id/here", f"{side}/here"),
        Stop("lasted", "/lasted", "/lasted"),
        Stop("lasted-days", "/lasted", "/lasted", _by_days),
        Stop("season", "/season", "/season"),
    ]


def _by_days(page: Page) -> object:
    page.get_by_role("radio").nth(1).check(force=True)
    page.locator(".lasted-choices select").select_option("wall")
    return page.locator("details.lasted-table summary").click()


def _unrolled_with_help(page: Page) -> None:
    _view(1)(page)
    _open_helps(page)


def _open_helps(page: Page) -> None:
    """Open the help beside every hard word."""
    for button in page.locator(".help-button").all():
        button.click()


def _building(rows: Rows) -> list[Stop]:
    structure, flat, dome = rows.of("structure")[0]["id"], rows.side("flat"), rows.side("dome")
    return [
        Stop("site-new", "/site/new", "/site/new"),
        Stop("site", "/site/:id", f"/site/{rows.of('site')[0]['id']}"),
        Stop("structure-new", "/structure/new", "/structure/new"),
        Stop("structure", "/structure/:id", f"/structure/{structure}"),
        Stop("elevation-new", "/elevation/new", f"/elevation/new?structure={structure}"),
        Stop("elevation-edit-flat", "/elevation/:id/edit", f"/elevation/{flat}/edit"),
        Stop("elevation-edit-dome", "/elevation/:id/edit", f"/elevation/{dome}/edit"),
        Stop("underlay", "/elevation/:id/underlay", f"/elevation/{flat}/underlay"),
        Stop("start", "/start", "/start", _open_helps),
        Stop("finish-new", "/finish/new", f"/finish/new?elevation={flat}"),
        Stop("finish-edit", "/finish/:id/edit", f"/finish/{rows.of('finish', sample_panel=True)[0]['id']}/edit"),
    ]


def _walls(rows: Rows) -> list[Stop]:
    flat, round_wall, dome = (f"/elevation/{rows.side(kind)}" for kind in ("flat", "round_wall", "dome"))
    chosen = rows.of("defect", elevation_id=rows.side("flat"))[0]["id"]
    return [
        Stop("walls", "/walls", "/walls"),
        Stop("elevation-flat", "/elevation/:id", f"{flat}?chosen={chosen}"),
        Stop("elevation-round", "/elevation/:id", round_wall),
        Stop("elevation-dome", "/elevation/:id", dome),
        Stop("elevation-dome-unrolled", "/elevation/:id", dome, _unrolled_with_help),
        Stop("elevation-dome-above", "/elevation/:id", dome, _view(2)),
    ]


def _marks(rows: Rows) -> list[Stop]:
    flat = f"/mark/new?elevation={rows.side('flat')}"
    mark = f"{flat}&shape=outline&points=1,1;2,1;2,2"
    defect, photographed = rows.defect(), rows.of("photo", of_type="defect")[0]["of_id"]
    return [
        Stop("mark", "/mark/:draft", mark),
        Stop("mark-named", "/mark/:draft", mark, _name_kind(0)),
        Stop("mark-all-kinds", "/mark/:draft", mark, _all_kinds),
        Stop("mark-known", "/mark/:draft", f"/mark/new?defect={defect}"),
        Stop("mark-gone", "/mark/:draft", "/mark/none"),
        Stop("defect", "/defect/:id", f"/defect/{defect}"),
        Stop("defect-photos", "/defect/:id", f"/defect/{photographed}"),
        Stop("reading", "/defect/:id/reading", f"/defect/{defect}/reading"),
        Stop("reading-photo", "/defect/:id/reading/photo", f"/defect/{defect}/reading/photo"),
        Stop("mark-photo-corners", "/mark/:draft/photo", mark, on_screen.to_corners),
        Stop("mark-photo-wall", "/mark/:draft/photo", f"{flat}&points=1.5,1.5", on_screen.to_wall),
    ]


def _tickets(rows: Rows) -> list[Stop]:
    tickets = rows.tickets_by_last_step()
    next_step = {"taken": "done", "done": "checked", "checked": "reopened"}
    fresh = rows.of("defect", elevation_id=rows.side("flat"))[0]["id"]
    return [
        Stop("tickets", "/tickets", "/tickets"),
        Stop("board", "/board", "/board"),
        Stop("papers", "/papers", "/papers"),
        Stop("ticket-new", "/ticket/new", f"/ticket/new?defects={fresh}"),
        Stop("ticket-edit", "/ticket/:id", f"/ticket/{tickets['open']}?edit=1"),
        Stop("ticket-how", "/ticket/:id", f"/ticket/{tickets['open']}?how=1"),
        *(Stop(f"ticket-{kind}", "/ticket/:id", f"/ticket/{key}") for kind, key in sorted(tickets.items())),
        *(
            Stop(f"ticket-step-{step}", "/ticket/:id", f"/ticket/{tickets[kind]}?step={step}")
            for kind, step in next_step.items()
        ),
        Stop("buying", "/buying", "/buying"),
        *_handing(),
    ]


def _plan_day(page: Page) -> object:
    """Plan a day for one person who can plaster, with the forecast unfolded; a draft from before may be there."""
    page.locator(".crew-skills input[type=checkbox]").nth(1).check(force=True)
    page.locator(".handing-fold:not([open]) > summary").nth(0).click()
    return page.locator(".day-people").first.wait_for()


def _hand_out(page: Page) -> object:
    """Deal out a day; its first hand-out opens."""
    _plan_day(page)
    page.locator(".handouts-make .btn").click()
    page.locator("dialog .btn-primary").click()
    page.locator("main a[href^='/handout/']").first.click()
    return page.locator(".order-deeds").first.wait_for()


def _handing() -> list[Stop]:
    return [
        Stop("workdays-none", "/workdays", "/workdays"),
        Stop("workday-new", "/workday/:id", "/workday/new"),
        Stop("workday-planned", "/workday/:id", "/workday/new", _plan_day),
        Stop("handout", "/handout/:id", "/workday/new", _hand_out),
        Stop("handout-gone", "/handout/:id", "/handout/none"),
        Stop("workdays", "/workdays", "/workdays"),
        Stop("list", "/list", "/list"),
    ]


_STATION = "time,wind,winddir,rain\n" + "".join(
    f"2026-03-01T{hour:02}:00Z,{9 + hour % 3},{180 + hour},{hour % 5}\n" for hour in range(20)
)


def _read_station(page: Page) -> object:
    """Have a small table read that has a trouble in it, and go on with its good rows."""
    table = (_STATION + "2026-03-01T20:00Z,-4,180,2\n").encode()
    page.locator("input[type=file]").set_input_files({"name": "station.csv", "mimeType": "text/csv", "buffer": table})
    page.locator(".station-troubles").wait_for()
    page.locator(".card .btn-primary").click()
    return page.locator(".station-spells .tile").first.wait_for()


def _rain_as_tables(page: Page) -> object:
    """Unfold the tables below the drawings."""
    for summary in page.locator(".rain-wall summary").all():
        summary.click()
    return page.locator(".rain-parts").first.wait_for()


def _others(rows: Rows) -> list[Stop]:
    storm = rows.of("storm")[-1]["id"]
    return [
        Stop("storms", "/storms", "/storms"),
        Stop("storm-new", "/storm/new", "/storm/new"),
        Stop("storm", "/storm/:id", f"/storm/{storm}"),
        Stop("storm-edit", "/storm/:id/edit", f"/storm/{storm}/edit"),
        Stop("storm-first", "/storm/:id/first", f"/storm/{storm}/first"),
        Stop("storm-rain", "/storm/:id/rain", f"/storm/{storm}/rain", _rain_as_tables),
        Stop("storm-hours", "/storm/:id/hours", f"/storm/{storm}/hours"),
        Stop("station", "/station", "/station"),
        Stop("station-read", "/station", "/station", _read_station),
        Stop("survey", "/survey/:id", f"/survey/{rows.of('survey')[-1]['id']}"),
        Stop("mixes", "/mixes", "/mixes"),
        Stop("mix", "/mix/:id", f"/mix/{_first_mix()}"),
        Stop("phone", "/phone", "/phone"),
        *_finding(rows),
        Stop("nowhere", "", "/nowhere"),
    ]


def _take_out(page: Page) -> object:
    """Take an opening off a side; the bar that brings it back shows."""
    page.locator(".sub-card .deeds .btn:last-child").first.click()
    return page.locator(".undo-bar").wait_for()


def _delete_storm(page: Page) -> object:
    """Delete a storm, look at what was deleted, and leave it there."""
    page.locator("main .btn-warning").click()
    page.locator("dialog .btn-warning").click()
    page.locator(".undo-bar").wait_for()
    page.evaluate("history.pushState(null, '', '/deleted'); dispatchEvent(new PopStateEvent('popstate'))")
    return page.locator(".deleted-row").first.wait_for()


def _bring_back(page: Page) -> object:
    """What the stop before deleted is needed by those that follow."""
    page.locator(".deleted-row .btn").first.click()
    return page.locator(".empty").wait_for()


def _finding(rows: Rows) -> list[Stop]:
    storm = rows.of("storm")[0]["id"]
    return [
        Stop("search", "/search", "/search"),
        Stop("search-found", "/search", "/search?q=e"),
        Stop("search-nothing", "/search", "/search?q=zzzz"),
        Stop("changes", "/changes", "/changes"),
        Stop("undo", "/elevation/:id/edit", f"/elevation/{rows.side('flat')}/edit", _take_out),
        Stop("deleted", "/deleted", f"/storm/{storm}", _delete_storm),
        Stop("deleted-none", "/deleted", "/deleted", _bring_back),
    ]


def _first_mix() -> str:
    mixes = json.loads((WEB.parents[1] / "shared" / "mixes.json").read_text(encoding="utf-8"))
    return next(iter(mixes["mixes"]))
