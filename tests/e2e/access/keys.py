"""Going by keys alone: what has the focus must show it, and nothing may lie over it."""

from typing import Any

from playwright.sync_api import Locator, Page

MOST_TABS = 90
# What has the focus, whether a ring shows round it, and whether anything of it can be seen.
FOCUS = """() => {
  const on = document.activeElement;
  if (!on || on === document.body) return null;
  const rings = [on, on.closest(".tile"), on.querySelector(":scope > .mark-reach")].filter(Boolean);
  const styles = rings.map((one) => getComputedStyle(one));
  const ringed = styles.some((one) => (one.outlineStyle !== "none" && parseFloat(one.outlineWidth) >= 2)
    || (one.stroke !== "none" && parseFloat(one.strokeWidth) >= 2));
  const {left, top, width, height} = on.getBoundingClientRect();
  const own = on.closest("label") ?? on;
  const seen = [0.1, 0.5, 0.9].some((down) => [0.1, 0.5, 0.9].some((across) => {
    const hit = document.elementFromPoint(left + across * width, top + down * height);
    return hit && (own.contains(hit) || hit.contains(own) && hit.matches("svg"));
  }));
  return {what: on.outerHTML.slice(0, 160), ringed, seen};
}"""


def tab_to(page: Page, goal: Locator) -> None:
    """Press Tab until `goal` has the focus; at each stop the focus must show."""
    wanted = goal.element_handle()
    for _ in range(MOST_TABS):
        page.keyboard.press("Tab")
        stop = page.evaluate(FOCUS)
        assert stop is None or (stop["ringed"] and stop["seen"]), stop
        if page.evaluate("(wanted) => document.activeElement === wanted", wanted):
            return
    raise AssertionError(f"{MOST_TABS} presses of Tab do not reach {goal}")


def round_trip(page: Page) -> list[Any]:
    """Press Tab until the focus is with the browser again; return every stop that does not show, or lies hidden."""
    page.evaluate("() => document.activeElement?.blur()")
    wrong, met = [], 0
    for _ in range(4 * MOST_TABS):
        page.keyboard.press("Tab")
        stop = page.evaluate(FOCUS)
        if stop is None:
            break
        # The heading takes the focus by itself when a screen comes; it is no stop of the Tab key.
        if stop["what"].startswith("<h1"):
            continue
        met += 1
        if not (stop["ringed"] and stop["seen"]):
            wrong.append(stop)
    else:
        wrong.append("the focus never leaves the page")
    return wrong if met else ["nothing takes the focus"]
