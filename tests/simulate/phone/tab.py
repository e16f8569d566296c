"""What people write on a page, and what the server could not take, as web/src/store/outbox.ts has it."""

from collections.abc import Mapping, Sequence

from makegood.domain.row import is_append_only
from tests.simulate.phone.disk import Key, Stores
from tests.simulate.phone.screen import FIELDS, Op, Row, Screen, key_of


class Tab(Screen):
    """One page."""

    async def put_many(
        self, changes: Sequence[Row], pictures: Mapping[str, bytes] | None = None
    ) -> list[str]:
        """Keep several changes in one transaction; resolves with the ids of the rows."""
        made = [self._make_op(change) for change in changes]
        ops = [op for op, worth in made if worth]
        kept = await self.disk.transact(lambda stores: self._add_ops(stores, ops, pictures or {}))
        await self.show_kept(kept)
        if pictures:
            self.jobs = list(self.disk.stores.photo_jobs.values())
        for op in kept:
            self.phone.watch.resolved(op)
        self.tell_tabs("outbox")
        self.kicked = True
        return [op["id"] for op, _ in made]

    async def show_kept(self, kept: Sequence[Op]) -> None:
        """Show ops just kept; once one of them was sent before its turn came, all that waits is read anew."""

        def read(stores: Stores) -> tuple[list[Op], dict[Key, Row]] | None:
            sent = [key_of(op) for op in kept if op["n"] not in stores.outbox]
            if not sent:
                return None
            outbox, _, _, folded = self.read_queues(stores)
            return outbox, folded | {key: stores.base[key] for key in sent if key in stores.base}

        async def deed() -> None:
            now = await self.disk.transact(read, writes=False)
            if now:
                self.replace_pending(*now)
            else:
                self.add_pending(kept)

        await self.in_turn(deed)

    def _add_ops(self, stores: Stores, ops: Sequence[Op], pictures: Mapping[str, bytes]) -> list[Op]:
        kept = [stores.add_to_outbox(op) for op in ops]
        for op in kept:
            if op["type"] == "photo" and op["kind"] == "put":
                _add_job(stores, op, pictures)
            self.phone.watch.wrote(self, op)
        return kept

    def _make_op(self, change: Row) -> tuple[Op, bool]:
        row_id = change.get("id") or self.phone.chance.uuid()
        site = row_id if change["type"] == "site" else change["site"]
        key = (site, change["type"], row_id)
        base = self.base.get(key)
        waiting = [op for op in self.pending if key_of(op) == key]
        is_new = base is None and not waiting
        rev = (base["alive_rev"] if base["deleted"] else base["rev"]) if base else 0
        head = {
            "op": self.phone.chance.uuid(), "type": change["type"], "id": row_id, "site": site,
            "base": change.get("seen", rev), "at": self.now(),
        }  # fmt: skip
        if change.get("drop"):
            return {**head, "kind": "del"}, True
        now = None if is_new else self.replay_ops(base, waiting)
        given = {name: change["set"][name] for name in FIELDS[change["type"]] if name in change["set"]}
        wanted = {
            name: value
            for name, value in given.items()
            if (value is not None if is_new else now is None or value != now.get(name))
        }
        return {**head, "kind": "put", "set": wanted}, is_new or bool(wanted)

    def may_change(self, key: Key) -> bool:
        """Tell whether the person can change this row: what was recorded stays."""
        return not is_append_only(key[1])

    async def keep_raw(self, op: Op) -> None:
        """Put a broken op in the outbox, as only a fault in the app could."""

        def deed(stores: Stores) -> Op:
            kept = stores.add_to_outbox(op)
            self.phone.watch.wrote(self, kept)
            return kept

        kept = await self.disk.transact(deed)
        await self.show_kept([kept])
        self.kicked = True

    async def retry_parked(self, op_id: str) -> None:
        """Send a parked op once more, as a new op."""
        again_id = self.phone.chance.uuid()

        def deed(stores: Stores) -> Op | None:
            found = stores.parked.pop(op_id, None)
            if found is None:
                return None
            old = {name: value for name, value in found["op"].items() if name != "n"}
            again = stores.add_to_outbox({**old, "op": again_id})
            self.phone.watch.let_go(found["op"])
            self.phone.watch.wrote(self, again)
            return again

        op = await self.disk.transact(deed)
        self.parked = [one for one in self.parked if one["id"] != op_id]
        if op is None:
            return
        await self.show_kept([op])
        self.tell_tabs("outbox")
        self.kicked = True

    async def discard_parked(self, op_id: str) -> None:
        """Throw a parked op away, at the person's wish."""

        def deed(stores: Stores) -> list[Row]:
            found = stores.parked.pop(op_id, None)
            if found:
                self.phone.watch.let_go(found["op"])
                if found["op"]["type"] == "photo":
                    _unhook(stores, found["op"])
            return list(stores.photo_jobs.values())

        self.jobs = await self.disk.transact(deed)
        self.parked = [one for one in self.parked if one["id"] != op_id]
        self.tell_tabs("outbox")


def _add_job(stores: Stores, op: Op, pictures: Mapping[str, bytes]) -> None:
    sha256 = op["set"]["sha256"]
    stores.photo_bytes[sha256] = pictures[sha256]
    old = stores.photo_jobs.get((op["site"], sha256))
    state = "sent" if old and old["state"] == "sent" else "waiting"
    ids = [*(old["photo_ids"] if old else []), op["id"]]
    job = {"site": op["site"], "sha256": sha256, "photo_ids": ids, "state": state, "code": None}
    stores.photo_jobs[op["site"], sha256] = job


def _unhook(stores: Stores, op: Op) -> None:
    key = (op["site"], op["set"].get("sha256"))
    job = stores.photo_jobs.get(key)
    if job is None:
        return
    ids = [one for one in job["photo_ids"] if one != op["id"]]
    if ids:
        stores.photo_jobs[key] = {**job, "photo_ids": ids}
    else:
        del stores.photo_jobs[key]
