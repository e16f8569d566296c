"""Walk every journey as four new people on one new site and print what each cost.

    python -m tests.walks            the table
    python -m tests.walks --steps    also the steps that waited, hid below the fold, lay out of the thumb's reach or led nowhere
"""

import shutil
import sys
import tempfile
from pathlib import Path

from playwright.sync_api import Browser, sync_playwright

from tests.e2e.conftest import FLAGS, Server
from tests.e2e.pictures import jpeg
from tests.walks import helping, owning, reading, surveying
from tests.walks.walker import Journey, Walker

HEAD = "| person | journey | taps | fields | keys | words | waits over 300 ms (longest) | scrolled to | upper third | dead ends |"

ONE_HANDED = (surveying.SURVEYOR.name, helping.HELPER.name)


def walk_all(browser: Browser, place: Path) -> list[Journey]:
    """Walk the whole story, each person on a device of their own; return the journeys in the order of the story."""
    server = Server(["serve", "--data", str(place / "site")], place / "server.log")
    server.start()
    try:
        return _walk(browser, server, place)
    finally:
        server.stop()


def _walk(browser: Browser, server: Server, place: Path) -> list[Journey]:
    journeys = [owning.reads_how_to_install()]
    keeper = Walker(browser, owning.KEEPER, journeys)
    owning.joins(keeper, server)
    owning.draws_a_wall(keeper)
    owning.logs_a_storm(keeper)
    surveyor = _survey(browser, server, keeper, journeys)
    owning.opens_tickets(keeper, len(surveying.FOUND))
    owning.plans_a_day(keeper)
    _help(browser, owning.hands_out(keeper), journeys)
    owning.looks_too_soon(keeper)
    surveying.plays_in_an_old_repair(surveyor)
    owning.checks(keeper)
    owning.prints_a_report(keeper)
    journeys.append(owning.backs_up(place / "site", place))
    _read(browser, owning.invites(keeper, "reader"), journeys)
    return journeys


def _survey(browser: Browser, server: Server, keeper: Walker, journeys: list[Journey]) -> Walker:
    surveyor = Walker(browser, surveying.SURVEYOR, journeys)
    surveying.joins(surveyor, owning.invites(keeper, "surveyor"))
    surveying.starts(surveyor)
    server.stop()
    surveying.marks(surveyor)
    surveying.sends(surveyor, server)
    return surveyor


def _help(browser: Browser, link: str, journeys: list[Journey]) -> None:
    helper = Walker(browser, helping.HELPER, journeys)
    helping.joins(helper, link)
    helping.takes(helper)
    helping.mixes(helper)
    helping.finishes(helper)
    helping.goes_on(helper)


def _read(browser: Browser, link: str, journeys: list[Journey]) -> None:
    reader = Walker(browser, reading.READER, journeys)
    reading.joins(reader, link)
    reading.looks(reader)
    reading.reads_the_report(reader)
    reading.takes_tables(reader)
    reading.verifies(reader, [jpeg(n) for n in range(len(surveying.FOUND))])


def as_row(one: Journey) -> str:
    """Return a journey's row; the upper third counts for those who hold the phone in one hand."""
    waits = one.long_waits_ms
    longest = f"{len(waits)} ({max(ms for _, ms in waits) / 1000:.1f} s)" if waits else "0"
    reach = len(one.out_of_reach) if one.person in ONE_HANDED else "–"
    spent = (one.taps, one.fields, one.keys, one.words, longest, len(one.scrolled_to), reach, len(one.dead_ends))
    return f"| {' | '.join(map(str, (one.person, one.name, *spent)))} |"


def as_table(journeys: list[Journey]) -> str:
    """Return the table for DEVELOPERS.md."""
    return "\n".join([HEAD, "|---" * (HEAD.count("|") - 1) + "|", *map(as_row, journeys)])


def as_steps(journeys: list[Journey]) -> str:
    """Return what hurt, step by step."""
    lines = []
    for one in journeys:
        lines += [f"\n{one.person}: {one.name}"]
        lines += [f"  waited {ms:.0f} ms: {step}" for step, ms in one.long_waits_ms]
        lines += [f"  scrolled to: {step}" for step in one.scrolled_to]
        lines += [f"  in the upper third: {step}" for step in one.out_of_reach if one.person in ONE_HANDED]
        lines += [f"  dead end: {step}" for step in one.dead_ends]
    return "\n".join(lines)


def main() -> None:
    """Walk in a folder that is thrown away."""
    chromium = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))))
    with tempfile.TemporaryDirectory() as place, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium, args=FLAGS)
        journeys = walk_all(browser, Path(place))
        browser.close()
    print(as_table(journeys))
    if "--steps" in sys.argv[1:]:
        print(as_steps(journeys))


if __name__ == "__main__":
    main()
