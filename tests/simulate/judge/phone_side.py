"""Looks at every commit on a phone's disk, and at every row that a tab shows."""

from collections.abc import Iterable

from tests.simulate.judge.bench import TAKEN, Bench, Broken, Life, device_of, hidden, visible
from tests.simulate.judge.ledger import above
from tests.simulate.phone.disk import Key
from tests.simulate.phone.screen import Op, Phone, Row
from tests.simulate.phone.tab import Tab


class PhoneSide(Bench):
    """Watches the phones; see screen.Watcher."""

    def wrote(self, tab: Tab, op: Op) -> None:
        """An op was stored."""
        row = tab.disk.stores.base.get((op["site"], op["type"], op["id"]))
        epoch = row["epoch"] if row else None
        life = self.lives[op["op"]] = Life(op, tab.phone.number, tab, self.step, epoch)
        self.unsettled.setdefault(life.phone, set()).add(op["op"])
        if op["id"] in self.garbage:
            return
        writes = self.last.setdefault((life.phone, (op["site"], op["type"], op["id"])), {})
        if op["kind"] == "del":
            writes.clear()
        writes[""] = life
        writes.update(dict.fromkeys(op.get("set") or {}, life))

    def resolved(self, op: Op) -> None:
        """The person was told that an op is stored."""
        self._check(op["op"] in self.lives, "I2 a promise resolved before its op was stored")
        self.lives[op["op"]].resolved = True

    def let_go(self, op: Op) -> None:
        """The person threw a parked op away."""
        self.unsettled[self.lives[op["op"]].phone].discard(op["op"])

    def committed(self, phone: Phone) -> None:
        """Look at a phone's disk after a transaction."""
        self._i2_nothing_dropped(phone)
        meta = phone.disk.stores.meta
        since = meta.get("since") or {}
        before = self.sinces.get(phone.number, {})
        for (number, key), writes in self.last.items():
            if number == phone.number and key[0] in before.keys() - since.keys():
                answered = [name for name, life in writes.items() if life.op["op"] in self.past.answers]
                for name in answered:
                    del writes[name]
        if since != before:
            self.sinces[phone.number] = since
            self._i6_no_row_passed_over(phone)

    def _i2_nothing_dropped(self, phone: Phone) -> None:
        stores = phone.disk.stores
        waiting = {op["op"] for op in stores.outbox.values()}
        both = waiting & stores.parked.keys()
        self._check(not both, f"I2 waiting and parked at once: {both}")
        gone = self.unsettled.get(phone.number, set()) - waiting - stores.parked.keys()
        for op_id in sorted(gone):
            answer = self.past.answers.get(op_id)
            taken = answer is not None and answer["st"] in TAKEN
            self._check(
                taken or self.lives[op_id].lost_by_restore,
                f"I2 I12 an op is gone: {self.lives[op_id].op} {answer}",
            )
            self.unsettled[phone.number].discard(op_id)

    def _i6_no_row_passed_over(self, phone: Phone) -> None:
        stores = phone.disk.stores
        if stores.meta.get("epoch") != self.server.query("SELECT value FROM meta WHERE key='epoch'")[0][0]:
            return
        # A role that the phone has not heard of yet: it will set the cursor back when it does.
        now = self.server.grants(device_of(phone))
        grants = {site: role for site, role in stores.meta["me"]["grants"].items() if now.get(site) == role}
        for site, cursor in (stores.meta.get("since") or {}).items():
            for rev, row_type, row_id in self.server.query(
                "SELECT rev, type, id FROM change WHERE site_id=? AND rev<=?", site, cursor
            ):
                if site in grants and row_type in visible(grants[site]):
                    row = stores.base.get((site, row_type, row_id))
                    self._check(
                        row is not None and row["rev"] >= rev,
                        f"I6 phone {phone.number} passed over {row_type} {row_id} at {rev}",
                    )

    def pulled_all(self, tab: Tab) -> None:
        """I8: no row without the rows it hangs on, once a pull says there is no more."""
        base = tab.disk.stores.base
        for (site, row_type, row_id), row in base.items():
            for of, _, parent in [] if row["deleted"] else above(row_type, site, row["d"]):
                self._check(
                    (site, of, parent) in base, f"I8 {row_type} {row_id} hangs on a {of} that is not here"
                )

    def see(self, tab: Tab, keys: Iterable[Key]) -> None:
        """I5: nothing older after something newer, and always one's own writes."""
        marks = self.marks.setdefault(tab, {})
        for key in keys:
            row = tab.base.get(key)
            if row:
                # Each epoch counts anew: a restored server has older rows. An edit of one's own may wake a tombstone.
                mark = (key, row["epoch"])
                self._check(
                    row["rev"] >= marks.get(mark, 0),
                    f"I5 tab {tab.born} went back: {mark} {marks.get(mark)} to {row['rev']}",
                )
                marks[mark] = row["alive_rev"]
            writes = self.last.get((tab.phone.number, key))
            if writes:
                self._i5_own_writes(tab, key, writes)

    def _i5_own_writes(self, tab: Tab, key: Key, writes: dict[str, Life]) -> None:
        shown = tab.shown(key)
        for name, life in writes.items():
            told = life.resolved if life.tab is tab else life.at_step < tab.born
            if told and not life.lost_by_restore and not self._may_show(tab, key, name, life, shown):
                raise Broken(
                    f"I5 phone {life.phone} tab {tab.born} shows {shown} in spite of its own {life.op} ({name})"
                )

    def _may_show(self, tab: Tab, key: Key, name: str, life: Life, shown: Row | None) -> bool:
        answer = self.past.answers.get(life.op["op"])
        if answer is not None and answer["st"] == "rejected":
            return True
        if life.op["kind"] == "del":
            own, free = shown is None, answer is not None and answer["st"] == "clash"
        else:
            own = shown is not None and (not name or shown[name] == life.op["set"][name])
            # The row has not come (again): a few fields of it cannot be shown.
            free = key not in tab.base and life.op["base"] > 0
        if own or free or answer is None:
            return own or free
        if shown is None and key[0] not in self.server.grants(device_of(tab.phone)):
            return True  # the site was taken away from this phone
        if shown and shown.get(name) is None and name in hidden("helper", key[1]):
            return True
        later = [
            row
            for rev, row in self.past.versions.get((key[1], key[0], key[2]), ())
            if rev >= (answer.get("rev") or 0)
        ]
        if shown is None:
            return None in later
        return any(row is not None and (not name or row[name] == shown[name]) for row in later)
