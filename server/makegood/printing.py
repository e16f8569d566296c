"""The command `makegood paper`: make one paper of a site from its folder."""

from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from makegood.errors import BadInput
from makegood.keeping import known_folder, opened
from makegood.papers.ask import Ask, unheard
from makegood.serving import say
from makegood.store import clock
from makegood.work.make_paper import owners_wish


@dataclass(frozen=True)
class Order:
    """What to print: the paper's name, the site (none if there is one only), whose words and measures, which row."""

    name: str
    site: str | None
    language: str
    measures: str
    about: str | None
    origin: str


def print_paper(order: Order, out: Path, data: Path) -> None:
    """Make a paper with everything a keeper sees; raises BadInput or NotFound."""
    if out.exists():
        raise BadInput("file_exists", f"{out} is there already. Name a new file.")
    with opened(known_folder(data)) as app:
        site_id = _site(order.site)
        ask = Ask(order.language, order.measures, order.about, datetime.now(UTC))
        wish = owners_wish(site_id, order.name, ask, (app.config["PHOTO_BYTES"], order.origin))
        half = out.with_name(f"{out.name}.part")
        try:
            with open(half, "wb") as made:
                wish.make(made, unheard)
            half.replace(out)
        finally:
            half.unlink(missing_ok=True)
    say(f"Made {out}.")


def _site(named: str | None) -> str:
    there = clock.sites()
    if named is None and len(there) == 1:
        return str(there[0])
    if named not in there:
        raise BadInput("site_unknown", f"Name one of the sites here with --site: {', '.join(there) or 'there is none'}.")
    return named
