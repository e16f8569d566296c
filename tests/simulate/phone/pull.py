"""Taking in what others did, as net/pull.ts and net/me.ts have it: pages stored together with their cursor."""

from collections.abc import Sequence
from typing import Any

from tests.simulate.line import NotReached
from tests.simulate.phone.disk import Stores
from tests.simulate.phone.screen import Row, key_of_row
from tests.simulate.phone.transport import Transport

_MOST_PAGES = 10_000


class Pull(Transport):
    """What one tab takes in."""

    async def pull_all(self) -> None:
        """Pull until the server has no more; show what came even if the line breaks half way."""
        keys: list[Any] = []
        everything = False
        try:
            for _ in range(_MOST_PAGES):
                page = await self.pull_page()
                if page is None:
                    continue
                answer, fresh = page
                keys += [key_of_row(row) for row in answer["rows"]]
                everything = everything or fresh or bool(answer["drop"])
                if not answer["more"]:
                    self.tab.phone.watch.pulled_all(self.tab)
                    return
                if not answer["rows"]:
                    raise NotReached("the pull says there is more but brings nothing")
        finally:
            if everything:
                await self.tab.reload_all()
                self.tab.tell_tabs("everything")
            elif keys:
                await self.tab.reread_rows(keys)
                self.tab.tell_tabs("rows", keys)

    async def pull_page(self) -> tuple[Row, bool] | None:
        """Take in one page; returns it and whether all rows must be read afresh; None if it came too late."""
        epoch, since = await self.tab.disk.transact(
            lambda stores: (stores.meta.get("epoch"), stores.meta.get("since") or {}), writes=False
        )
        asked = {"v": 1, "epoch": epoch, "since": since, "limit": self.tab.phone.habits.page}
        answer = await self.ask("POST", "/api/sync/pull", asked)
        if not isinstance(answer.get("epoch"), str) or not isinstance(answer.get("rows"), list):
            raise NotReached("the pull answer is not ours")
        swept = await self.take_page(answer, epoch, since)
        if swept is not None:
            self.tab.shown_since = self.next_since(since, answer)
        return None if swept is None else (answer, epoch is None or swept)

    async def take_page(self, answer: Row, epoch: str | None, since: Row) -> bool | None:
        """Store a page's rows and its cursor in one transaction; true if rows of an older epoch went."""

        def deed(stores: Stores) -> bool | None:
            if self.is_stale(stores, since):
                return None
            if epoch is None:
                stores.meta["sweep"] = True
            self.take_rows(stores, answer)
            stores.meta["since"] = self.next_since(since, answer)
            stores.meta["epoch"] = answer["epoch"]
            return not answer["more"] and self.sweep(stores, answer["epoch"])

        return await self.tab.disk.transact(deed)

    def is_stale(self, stores: Stores, since: Row) -> bool:
        """Tell whether a new role has set a cursor back while the page was on its way."""
        return (stores.meta.get("since") or {}) != since

    def take_rows(self, stores: Stores, answer: Row) -> None:
        """Store the rows of a page, and drop the sites it says to drop."""
        for site in answer["drop"]:
            for key in [key for key in stores.base if key[0] == site]:
                del stores.base[key]
        for row in answer["rows"]:
            new = taken_in(stores.base.get(key_of_row(row)), row)
            stores.base[key_of_row(row)] = {**new, "epoch": answer["epoch"]}

    def sweep(self, stores: Stores, epoch: str) -> bool:
        """After the last page of a new epoch, rows that only the older one had go."""
        if not stores.meta.pop("sweep", False):
            return False
        for key in [key for key, row in stores.base.items() if row["epoch"] != epoch]:
            del stores.base[key]
        return True

    def next_since(self, since: Row, answer: Row) -> Row:
        """Return the cursors after a page."""
        kept = {site: rev for site, rev in since.items() if site not in answer["drop"]}
        return {**kept, **answer["since"]}

    async def forget_epoch(self) -> None:
        """The server was restored from a backup: keep the outbox, ask for everything anew, offer sent photos again."""

        def deed(stores: Stores) -> list[Row]:
            stores.meta.update(epoch=None, since={})
            self.offer_photos_again(stores)
            return list(stores.photo_jobs.values())

        self.tab.jobs = await self.tab.disk.transact(deed)
        self.tab.tell_tabs("queues")

    def offer_photos_again(self, stores: Stores) -> None:
        """Photos that are still on this phone may be lost on the server; those it has cost one question each."""
        for key, job in stores.photo_jobs.items():
            if job["state"] == "sent" and job["sha256"] in stores.photo_bytes:
                stores.photo_jobs[key] = {**job, "state": "waiting"}

    async def refresh_me(self) -> None:
        """Read grants and the write key of the session again."""
        mine = await self.ask("GET", "/api/me")
        grants = {one["site_id"]: one["role"] for one in mine["grants"]}
        await self.adopt_me({**mine, "grants": grants})

    async def adopt_me(self, mine: Row) -> None:
        """Take over what the server says this device is; a site whose role changed is pulled anew."""
        before = (self.tab.me or {}).get("grants", {})
        changed = [site for site, role in mine["grants"].items() if before.get(site, role) != role]
        if changed:
            await self.tab.disk.transact(lambda stores: _forget_cursors(stores, changed))
        await self.tab.write_cell("me", mine)
        self.tab.me = mine


def taken_in(old: Row | None, row: Row) -> Row:
    """Return the base row for a pulled one; a tombstone remembers when the row was last seen alive."""
    where = {name: row[name] for name in ("site", "type", "id", "rev")}
    if not row.get("deleted"):
        return {**where, "deleted": False, "alive_rev": row["rev"], "d": row["d"]}
    alive = (old["alive_rev"] if old["deleted"] else old["rev"]) if old else 0
    return {**where, "deleted": True, "alive_rev": alive, "d": old["d"] if old else {}}


def _forget_cursors(stores: Stores, sites: Sequence[str]) -> None:
    stores.meta["since"] = {**(stores.meta.get("since") or {}), **dict.fromkeys(sites, 0)}
