"""Who looks on at everything and finds fault.

I1 after quiet every phone holds what its role may see on the server, and every tab shows what its phone holds.
I2 each op is taken or refused or waits, never two of them; I3 the same op has one answer, whenever it comes;
I4 rows are what the ledger makes of the ops, every answer that lost is a clash row, no value vanishes;
I5 no tab shows older after newer, nor anything but its own writes until something newer came;
I6 no cursor stands beyond a row that is not there; I7 no answer holds what the role may not see;
I8 no row without the rows it hangs on, once a pull is complete; I9 syncing comes to an end (story.py);
I10 the same seed gives the same trace (test_story.py); I11 photos that count as stored are there, whole, and all
that can come do; I12 nothing unsent is dropped, whatever befalls the phone.
"""

import hashlib
from collections.abc import Iterable

from makegood.domain import roles
from tests.simulate.judge.bench import device_of, seen_as, visible
from tests.simulate.judge.phone_side import PhoneSide
from tests.simulate.judge.server_side import ServerSide
from tests.simulate.phone.disk import Key
from tests.simulate.phone.screen import Phone, Row


class Judge(ServerSide, PhoneSide):
    """Sees every request, every commit on a phone and every row that is shown; in the end, everything."""

    def after_quiet(self, phones: Iterable[Phone]) -> None:
        """Look at everything once all phones have had a good line for long enough."""
        self._i4_every_value_has_its_place()
        self._i11_photos(phones)
        for phone in phones:
            self._i1_same_as_server(phone)
            self._i2_all_settled(phone)

    def _i4_every_value_has_its_place(self) -> None:
        """A value stands, or somebody who had seen it (or its own writer) wrote another, or a clash shows it."""
        clashes = [
            row
            for place in self.past.ledger.entries
            if place[0] == "clash" and (row := self.server.row(*place))
        ]
        for n, (op, device, rev, agreed) in enumerate(self.past.taken):
            row = self.server.row(op["type"], op["site"], op["id"])
            for name, value in (op.get("set") or {}).items():
                if (
                    op["kind"] == "del"
                    or name in agreed
                    or (row and row[name] == value)
                    or op["type"] == "step"
                ):
                    continue
                of_it = [one for one in clashes if (one["of_id"], one["field"]) == (op["id"], name)]
                told = any(value in (one["kept"], one["lost"]) for one in of_it)
                seen = any(
                    later.op["id"] == op["id"]
                    and name in (later.op.get("set") or {})
                    and (later.device == device or later.op["base"] >= rev)
                    for later in self.past.taken[n + 1 :]
                )
                self._check(told or seen, f"I4 {value!r} of {op} vanished")

    def _i11_photos(self, phones: Iterable[Phone]) -> None:
        kept = self.server.photos.kept
        for (site, sha256), content in kept.items():
            self._check(
                hashlib.sha256(content).hexdigest() == sha256,
                f"I11 photo {sha256} of {site} is not what its name says",
            )
        for site, row_id, sha256, stored in self.server.query(
            "SELECT site_id, id, sha256, stored FROM photo ORDER BY site_id, id"
        ):
            self._check(
                not stored or (site, sha256) in kept, f"I11 photo {row_id} counts as stored and is not"
            )
            for phone in phones:
                job = phone.disk.stores.photo_jobs.get((site, sha256))
                role = self.server.grants(device_of(phone)).get(site)
                if job and row_id in job["photo_ids"] and roles.may(role, "make", "photo"):
                    self._check(
                        stored and job["state"] == "sent",
                        f"I11 photo {row_id} of phone {phone.number} never came: {job}",
                    )

    def _i1_same_as_server(self, phone: Phone) -> None:
        stores = phone.disk.stores
        wanted: dict[Key, Row | None] = {}
        for site, role in self.server.grants(device_of(phone)).items():
            for row_type, row_id in self.server.query("SELECT type, id FROM change WHERE site_id=?", site):
                row = self.server.row(row_type, site, row_id)
                if row and row_type in visible(role):
                    wanted[site, row_type, row_id] = seen_as(role, row_type, row)
        got = {key: None if row["deleted"] else row["d"] for key, row in stores.base.items()}
        # What a phone was shown as keeper it keeps, if it comes back as helper before it has noticed.
        mine = self.server.grants(device_of(phone))
        got = {key: row for key, row in got.items() if key[0] not in mine or key[1] in visible(mine[key[0]])}
        odd = [
            (key, wanted.get(key, "absent"), got.get(key, "absent"))
            for key in wanted | got
            if wanted.get(key, "absent") != got.get(key, "absent")
        ]
        self._check(not odd, f"I1 phone {phone.number} differs: (row, server, phone) {odd[:3]}")
        for tab in phone.tabs:
            self._check(
                tab.base == stores.base,
                f"I1 tab {tab.born} of phone {phone.number} shows something else than its disk",
            )
            self._check(
                tab.pending == list(stores.outbox.values()), f"I1 tab {tab.born} counts what waits wrongly"
            )
            self._check(
                {one["id"] for one in tab.parked} == set(stores.parked),
                f"I1 tab {tab.born} counts what is parked wrongly",
            )

    def _i2_all_settled(self, phone: Phone) -> None:
        stores = phone.disk.stores
        self._check(
            not stores.outbox, f"I2 phone {phone.number} still has {list(stores.outbox.values())[:2]} waiting"
        )
        for op_id, one in stores.parked.items():
            answer = self.past.answers.get(op_id)
            fair = self.lives[op_id].lost_by_restore or (answer is not None and answer["st"] == "rejected")
            self._check(fair, f"I2 parked without a refusal: {one} {answer}")
