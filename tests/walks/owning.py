"""The keeper on an old laptop: sets up a site, hands out the work, checks it, prints and backs up."""

import re
import subprocess
import sys
from pathlib import Path

from tests.e2e.conftest import Server
from tests.e2e.pictures import jpeg
from tests.house.tree import ROOT
from tests.walks.walker import Journey, Person, Walker

KEEPER = Person("keeper", 1366, 768, touch=False, slower=2)
LINK = ".link-text"
DONE_TICKET = re.compile("^Ticket .*done", re.DOTALL)
OLD_TICKET = re.compile("^Ticket 4")


def _told(*headings: str) -> tuple[int, int]:
    """Return the words of these sections of the README, and the commands among them that a person types."""
    sections = (ROOT / "README.md").read_text(encoding="utf-8").split("\n## ")
    told = "\n".join(section for section in sections if section.startswith(headings))
    commands = sum(len(block.strip().splitlines()) for block in re.findall(r"```\n(.*?)```", told, re.DOTALL))
    return len(re.findall(r"\w+", re.sub(r"!\[.*?\]\(.*?\)", "", told))), commands


def reads_how_to_install() -> Journey:
    """From the top of the README to a site of one's own: what must be read and typed before a browser is open."""
    words, commands = _told("# Makegood", "Two commands", "Your own site")
    return Journey(KEEPER.name, "read how to install", fields=commands, words=words)


def joins(keeper: Walker, server: Server) -> None:
    """Opens the link the first start printed, and says who they are."""
    with keeper.journey("join by the printed link"):
        keeper.goes_to(server.first_link())
        keeper.writes(keeper.page.get_by_label("Your name"), "Ada")
        keeper.presses("Join")


def draws_a_wall(keeper: Walker) -> None:
    """Names the site, adds a building and draws one side of it to scale."""
    page = keeper.page
    with keeper.journey("draw a building and a side"):
        keeper.presses("Name the site")
        keeper.writes(page.get_by_label("Name", exact=True), "Hollow Farm")
        keeper.presses("Keep the site")
        keeper.presses("Add a building or wall")
        keeper.writes(page.get_by_label("Name", exact=True), "Long barn")
        keeper.picks("cob")
        keeper.presses("Keep and draw its sides")
        keeper.writes(page.get_by_label("Name", exact=True), "South")
        keeper.writes(page.get_by_label("Width", exact=True), "8")
        keeper.writes(page.get_by_label("Height", exact=True), "3")
        keeper.picks(re.compile("^S$"))
        keeper.presses("Keep this side")


def logs_a_storm(keeper: Walker) -> None:
    """Writes down last night's storm by eye."""
    with keeper.journey("log a storm"):
        keeper.to_place("Storms")
        keeper.presses("Log a storm")
        keeper.picks("wind from S")
        keeper.picks(re.compile("heavy"))
        keeper.presses("Keep the storm")


def invites(keeper: Walker, role: str) -> str:
    """Makes a link for somebody; returns it."""
    page = keeper.page
    with keeper.journey(f"invite a {role}"):
        keeper.taps_badge()
        if role != "surveyor":
            keeper.picks(role)
        keeper.presses("Make a link")
        keeper.sees(page.locator(LINK).last)
        return page.locator(LINK).last.inner_text()


def opens_tickets(keeper: Walker, count: int) -> None:
    """Makes a ticket of each defect the surveyor found, starting from the list of tickets."""
    page = keeper.page
    with keeper.journey(f"open {count} tickets"):
        keeper.to_place("Tickets")
        keeper.presses("Open a ticket")
        keeper.presses("All on this side")
        keeper.presses("One ticket for each")
        keeper.sees(page.get_by_role("link", name=re.compile(f"^Ticket (new )?{count}")))


def plans_a_day(keeper: Walker) -> None:
    """Plans a work day for one helper who has plastered."""
    page = keeper.page
    with keeper.journey("plan a work day"):
        keeper.to_place("Tickets")
        keeper.presses("Work days")
        keeper.presses("Plan a work day")
        keeper.writes(page.get_by_label("Name", exact=True).first, "Nuria")
        keeper.taps(page.get_by_role("checkbox", name="has plastered").first)
        keeper.presses("Keep the plan")


def hands_out(keeper: Walker) -> str:
    """Makes the helper's list and its link; returns the link."""
    page = keeper.page
    with keeper.journey("hand out"):
        keeper.presses("Make hand-outs")
        keeper.taps(page.get_by_role("dialog").get_by_role("button", name=re.compile("One")).first)
        keeper.taps(page.get_by_role("region", name="Hand-outs").get_by_role("link").first)
        keeper.picks("Español")
        keeper.presses(re.compile("^Keep"))
        keeper.presses("Make a link")
        keeper.sees(page.locator(LINK).last)
        return page.locator(LINK).last.inner_text()


def looks_too_soon(keeper: Walker) -> None:
    """Means to close the ticket on the day it was done, and is told to wait until it has cured."""
    page = keeper.page
    with keeper.journey("look while it still cures") as journey:
        _opens_the_look(keeper, DONE_TICKET)
        told = page.get_by_text(re.compile("cures"))
        if not (told.count() and keeper.in_sight(told)):
            _answers(keeper)
            keep = page.get_by_role("button", name=re.compile("^Keep")).first
            if not keep.is_enabled() and not keeper.in_sight(told):
                journey.dead_ends.append("Keep stays grey, and why stands out of sight")
        keeper.presses(re.compile("^(Cancel|Throw)"))


def checks(keeper: Walker) -> None:
    """Looks a second time at a repair that has cured, and closes its ticket."""
    with keeper.journey("check a done ticket"):
        _opens_the_look(keeper, OLD_TICKET)
        _answers(keeper)
        keeper.presses(re.compile("^Keep"))


def _opens_the_look(keeper: Walker, ticket: re.Pattern[str]) -> None:
    keeper.to_place("Tickets")
    keeper.follows(ticket)
    keeper.presses("I checked it: sound")


def _answers(keeper: Walker) -> None:
    page = keeper.page
    for point in page.get_by_role("radio", name="right", exact=True).all():
        keeper.taps(point)
    keeper.takes_photo(page.get_by_role("button", name="Choose a file"), jpeg(6))


def prints_a_report(keeper: Walker) -> Path:
    """Makes the survey report; returns the file."""
    page = keeper.page
    with keeper.journey("print the report"):
        keeper.to_place("Tickets")
        keeper.presses("Papers")
        keeper.presses("Make it: Survey report")
        fetch = page.get_by_role("link", name="Fetch", exact=True)
        keeper.sees(fetch)
        return keeper.fetches(fetch)


def backs_up(data: Path, place: Path) -> Journey:
    """Backs the site up from the README's own section, while the server runs, and checks it."""
    words, _ = _told("Keep it safe")
    makegood = [sys.executable, "-m", "makegood"]
    for command in (["backup", str(place / "site.backup"), "--data", str(data)], ["check", "--data", str(data)]):
        subprocess.run([*makegood, *command], check=True, capture_output=True, cwd=place)
    return Journey(KEEPER.name, "back up", fields=2, words=words)
