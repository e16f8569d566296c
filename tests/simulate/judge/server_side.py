"""Looks at every request that the server has answered."""

import json
from collections import Counter
from collections.abc import Iterable
from typing import Any

from makegood.domain import roles
from makegood.store.device import hashed
from tests.simulate.judge.bench import TAKEN, Bench, Broken, Taken, entry_of, founds, hidden, visible
from tests.simulate.judge.ledger import Answer, Place, above
from tests.simulate.kernel import iso
from tests.simulate.phone.screen import Op, Row
from tests.simulate.server import Backup, Reply

_RIGHTLY_REFUSED = ("not_allowed", "parent_missing", "illegal_step", "date_refused")


class ServerSide(Bench):
    """Watches the server."""

    def after_request(self, session: str, method: str, url: str, body: bytes, reply: Reply) -> None:
        """Look at a request that has just been answered."""
        if reply.status >= 500:
            raise Broken(f"the server met a fault: {method} {url} {reply.status} {reply.body!r}")
        if url.endswith("/pull") and reply.status == 200:
            self._i7_nothing_out_of_sight(session, reply.json())
        before = self.past.revs
        if url.endswith("/push") and reply.status == 200:
            self._after_push(session, json.loads(body)["ops"], reply.json()["results"], dict(before))
        elif method not in ("GET", "HEAD"):
            self._catch_up()

    def _after_push(self, session: str, ops: list[Op], results: list[Row], before: dict[str, int]) -> None:
        ((device,),) = self.server.query("SELECT id FROM device WHERE session_hash=?", hashed(session))
        losses: list[Any] = []
        touched: dict[Place, None] = {}
        for op, result in zip(ops, results, strict=True):
            known = self.past.answers.setdefault(op["op"], result)
            if known is not result:
                self._check(known == result, f"I3 one op, two answers: {known} {result}")
                continue
            if result["st"] not in TAKEN:
                self._check_refusal(op, result, device, founds(ops, op["site"]))
                self._check_parents(op, result, ops)
                continue
            self._check(op["id"] not in self.garbage, f"garbage was taken: {op}")
            op = {**op, "base": self._really_seen(op)}
            taking = self.past.ledger.take(op, device, min(op["at"], iso(self.server.clock.now)))
            self._check(
                (result["st"] == "clash") == bool(taking.losses), f"I4 {result} but {taking.losses} for {op}"
            )
            losses += taking.losses
            touched |= taking.touched
            self.past.taken.append(Taken(op, device, result.get("rev") or 0, frozenset(taking.agreed)))
        changed = self._catch_up()
        self._check_rows(touched)
        self._check_losses(
            losses,
            [place for place in changed if place[0] == "clash" and place not in self.past.ledger.entries],
        )

    def _really_seen(self, op: Op) -> int:
        """Return the base of an op as a revision of the present epoch: of a lost day nothing remains but its start."""
        life = self.lives.get(op["op"])
        base: int = op["base"]
        if life is None or life.epoch is None:
            return base
        then, now = int(life.epoch.removeprefix("epoch")), self.past.epoch
        if then == now:
            return base
        parting = max(one for one in self.left if one in (then, *self.left[then]) and one in self.left[now])
        ends = [self.left[one][parting] for one in (then, now) if parting in self.left[one]]
        return min([base, *(revs.get(op["site"], 0) for revs in ends)])

    def _check_rows(self, touched: Iterable[Place]) -> None:
        for place in touched:
            row = self.server.row(*place)
            for fault in self.past.ledger.faults(place, row):
                raise Broken(f"I4 not what the ops make of it: {fault}")
            if row:
                self.past.ledger.stamp(place, row["rev"])

    def _check_losses(self, losses: list[Any], places: list[Place]) -> None:
        """Every answer that did not stand is written down as a clash, and nothing else is."""
        told: Counter[str] = Counter()
        for place in places:
            row = self.server.row(*place) or {}
            told[
                repr(((row["of_type"], place[1], row["of_id"]), row["field"], row["kept"], row["lost"]))
            ] += 1
            self.past.ledger.entries[place] = entry_of(row)
        wanted = Counter(repr(one) for one in losses)
        self._check(told == wanted, f"I4 clashes told: {told - wanted}, not told: {wanted - told}")

    def _did_the_work(self, device: str, op: Op) -> bool:
        """Tell whether a second look at a repair is by whoever says that it is done."""
        found = self.server.query(
            "SELECT made_on_device FROM step WHERE site_id=? AND ticket_id=? AND kind='done' ORDER BY at DESC, id DESC",
            op["site"],
            op["set"]["ticket_id"],
        )
        return bool(found) and op["set"]["kind"] in ("checked", "rechecked") and found[0][0] == device

    def _check_refusal(self, op: Op, result: Row, device: str, founding: bool) -> None:
        """Find no fault with garbage being refused, nor with what came before its own site (`founding`)."""
        if op["id"] in self.garbage:
            return
        code = result["code"]
        nowhere = code == "missing_field" and (
            founding or self.server.row(op["type"], op["site"], op["id"]) is None
        )
        own_work = code == "own_work_refused" and self._did_the_work(device, op)
        self._check(code in _RIGHTLY_REFUSED or nowhere or own_work, f"a sound op was refused: {result} {op}")
        role = None if founding else self.server.grants(device).get(op["site"])
        deeds = {name for name in ("make", "edit", "drop") if roles.may(role, name, op["type"])}
        if code == "not_allowed" and role and op["type"] != "step":
            deed = (
                "drop"
                if op["kind"] == "del"
                else "edit"
                if self.server.row(op["type"], op["site"], op["id"])
                else "make"
            )
            self._check(deed not in deeds, f"a {role} may {deed} this: {op}")

    def _check_parents(self, op: Op, result: Row, ops: list[Op]) -> None:
        if result["code"] != "parent_missing" or op["id"] in self.garbage:
            return
        came_later = {(one["type"], one["site"], one["id"]) for one in ops}
        missing = [
            one
            for one in above(op["type"], op["site"], op["set"])
            if one in came_later or self.server.row(*one) is None
        ]
        self._check(bool(missing), f"no parent is missing: {op}")

    def _catch_up(self) -> list[Place]:
        """Note every row that changed since the last look; return where they are."""
        changed: list[Place] = []
        for site, rev in self.server.query("SELECT site_id, rev FROM site_clock ORDER BY site_id"):
            old = self.past.revs.get(site, 0)
            if rev == old:
                continue
            self.past.revs[site] = rev
            news = self.server.query(
                "SELECT rev, type, id FROM change WHERE site_id=? AND rev>? ORDER BY rev", site, old
            )
            for at, row_type, row_id in news:
                place = (row_type, site, row_id)
                row = self.server.row(*place)
                self._check(row is not None and row["rev"] == at, f"the change log is off: {place} {at}")
                self.past.versions.setdefault(place, []).append(
                    (at, None if row is None or row["deleted"] else row)
                )
                changed.append(place)
        return changed

    def begin_with(self, places: Iterable[Place]) -> None:
        """Take over rows that were there before the story began."""
        self._catch_up()
        for place in places:
            row = self.server.row(*place) or {}
            entry = self.past.ledger.entries[place] = entry_of(row)
            for name, (rev, device, at, op) in row["fv"].items():
                entry.answers[name] = Answer(rev, device, at, op)

    def _i7_nothing_out_of_sight(self, session: str, page: Row) -> None:
        ((device,),) = self.server.query("SELECT id FROM device WHERE session_hash=?", hashed(session))
        grants = self.server.grants(device)
        for row in page["rows"]:
            role = grants.get(row["site"])
            self._check(role is not None and row["type"] in visible(role), f"I7 {role} was sent {row}")
            told = [name for name in hidden(role, row["type"]) if (row.get("d") or {}).get(name) is not None]
            self._check(not told, f"I7 a {role} was told {told} of {row}")

    def back_up(self) -> Backup:
        """Have the server backed up, with what is known of it."""
        backup = self.server.back_up()
        backup.known = self.past.copied()
        return backup

    def restore(self, backup: Backup) -> None:
        """Have yesterday's server back."""
        now, then = self.past, backup.known.copied()
        self.server.restore(backup)
        for op_id in now.answers.keys() - then.answers.keys():
            if op_id in self.lives:
                self.lives[op_id].lost_by_restore = True
        self.past = then
        self.left[self.server.epochs] = {**self.left[then.epoch], then.epoch: then.revs}
        self.past.epoch = self.server.epochs
        self.past.revs = dict(self.server.query("SELECT site_id, rev FROM site_clock"))
        for writes in self.last.values():
            for name in [name for name, life in writes.items() if life.op["op"] in now.answers]:
                del writes[name]
