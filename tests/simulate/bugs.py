"""Bugs to plant one at a time: each switches a rule of the real server, or of the phone, off. All must be caught.

The last few are bugs that the simulation found in the project itself; they stay here so that they stay out.
"""

from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, field
from typing import Any
from unittest import mock

from sqlalchemy import update

from makegood.api import sync
from makegood.domain import merge, roles
from makegood.store import change, clock
from makegood.store.database import db
from makegood.work import receive_changes, send_changes, take_in_photo
from tests.simulate.line import NotReached
from tests.simulate.phone.disk import Stores
from tests.simulate.phone.screen import Row, key_of, key_of_row
from tests.simulate.phone.sync import Syncing
from tests.simulate.phone.tab import Tab
from tests.simulate.world import How

Planted = Callable[[ExitStack], None]
RESTORES = How(steps=700, trouble=0.05, more={"_restore": 6, "_back_up": 6, "_change_line": 3, "edit": 2})
ROLES = How(steps=700, trouble=0.05, more={"_change_grants": 15, "edit": 2, "photograph": 2})
OFTEN_RESTORED = How(steps=300, trouble=0.1, more=RESTORES.more)
PHOTOS = How(steps=700, more={"photograph": 10})
LATE_PHOTOS = How(steps=300, trouble=0.05, more={"photograph": 20, "_late_letter": 3})
SAME_ROWS = How(
    steps=900, trouble=0.01, more={"edit": 30, "record": 0.2, "make": 0.2, "delete": 0.1, "photograph": 0}
)
LONG = How(steps=240)
DELETES = How(steps=240, more={"delete": 4, "record": 2})


@dataclass(frozen=True)
class Bug:
    """What is switched off, and in which kind of story it must show."""

    plant: Planted
    how: How = field(default=LONG)


def _swap(*swaps: tuple[Any, str, Any]) -> Planted:
    def plant(stack: ExitStack) -> None:
        for where, name, other in swaps:
            stack.enter_context(mock.patch.object(where, name, other))

    return plant


# The server

_keep_ops, _merge, _drop, _touch = change.keep_ops, merge.merge, merge.drop, merge.touch
_send_changes, _answer, _new_epoch = send_changes.send_changes, receive_changes._Push._do, clock.new_epoch


def _keep_new_ops(ops: Any) -> None:
    wanted = list(ops)
    there = _kept_ops([one.op_id for one in wanted])
    _keep_ops([one for one in wanted if one.op_id not in there])


_kept_ops = change.kept_ops


def _cursor_of_clock(device: Any, since: Any, limit: int) -> Any:
    page = _send_changes(device, since, limit)
    for site in page.since:
        page.since[site] = db.session.get(clock.SiteClock, site).rev  # type: ignore[union-attr]
    return page


def _cursor_one_too_far(device: Any, since: Any, limit: int) -> Any:
    page = _send_changes(device, since, limit)
    if page.more:
        page.since[page.rows[-1].site_id] += 1
    return page


def _whole_row_wins(row: Any, edit: Any) -> Any:
    if any(last[2] > edit.at for last in row.fv.values()):
        return row, []
    return _merge(row, edit)


def _silent(row: Any, edit: Any) -> Any:
    return _merge(row, edit)[0], []


def _delete_wins(row: Any, edit: Any) -> Any:
    return merge.replace(row, deleted=True, fv={**row.fv, merge.DELETED: edit.stamp}), []


def _stays_deleted(row: Any, edit: Any) -> Any:
    merged, lost = _merge(row, edit)
    return merge.replace(merged, deleted=row.deleted), lost


def _clash_with_oneself(last: Any, edit: Any) -> bool:
    return last is not None and last[0] > edit.base


def _child_unnoticed(row: Any, edit: Any) -> Any:
    touched, lost = _touch(row, edit)
    return merge.replace(
        touched, fv={name: last for name, last in touched.fv.items() if name != merge.CHILD}
    ), lost


def _no_row_back_after_clash(push: Any, op: Any) -> Any:
    """As it was before: a row that a clash left as it is was not sent again."""
    with mock.patch.object(
        receive_changes, "replace", lambda one, **changes: merge.replace(one, **changes) if changes else one
    ):
        return _answer(push, op)


def _epoch_reuses_revs() -> str:
    # Takes back the leap that new_epoch makes.
    before = {one.site_id: one.rev for one in db.session.query(clock.SiteClock)}
    mark = _new_epoch()
    for site, rev in before.items():
        db.session.execute(update(clock.SiteClock).where(clock.SiteClock.site_id == site).values(rev=rev))
    return mark


# The phone

_settle, _upload_one = Syncing.settle, Syncing.upload_one


async def _ack_on_send(self: Syncing, batch: Any) -> Any:
    def forget(stores: Stores) -> None:
        for op in batch:
            stores.outbox.pop(op["n"], None)

    await self.tab.disk.transact(forget)
    return await _push_batch(self, batch)


_push_batch = Syncing.push_batch


async def _cursor_first(self: Syncing, answer: Row, epoch: str | None, since: Row) -> bool:
    await self.tab.disk.transact(
        lambda stores: stores.meta.update(since=self.next_since(since, answer), epoch=answer["epoch"])
    )
    await self.tab.disk.transact(lambda stores: self.take_rows(stores, answer))
    return False


def _pull_clobbers(self: Syncing, stores: Stores, answer: Row) -> None:
    _take_rows(self, stores, answer)
    came = {key_of_row(row) for row in answer["rows"]}
    for n in [n for n, op in stores.outbox.items() if key_of(op) in came]:
        del stores.outbox[n]


_take_rows = Syncing.take_rows


def _base_over_pending(self: Tab, key: Any) -> Row | None:
    base = self.base.get(key)
    return _shown(self, key) if base is None or base["deleted"] else self.replay_ops(base, [])


_shown = Tab.shown


async def _park_blocks(self: Syncing, batch: Any, results: Any) -> None:
    good = [one for one in results if one["st"] != "rejected"]
    if good:
        await _settle(self, batch, good)
    if len(good) < len(results):
        raise NotReached("stuck at an op that the server refused")


async def _refused_is_forgotten(self: Syncing, batch: Any, results: Any) -> None:
    await _settle(self, batch, results)

    def forget(stores: Stores) -> None:
        stores.parked.clear()

    await self.tab.disk.transact(forget)
    self.tab.parked = []


def _drop_takes_outbox(self: Syncing, stores: Stores, answer: Row) -> None:
    _take_rows(self, stores, answer)
    for n in [n for n, op in stores.outbox.items() if op["site"] in answer["drop"]]:
        del stores.outbox[n]


async def _epoch_ignored(self: Syncing) -> None:
    await self.tab.disk.transact(lambda stores: stores.meta.update(epoch=None))


async def _sent_is_stored(self: Syncing, job: Row, content: bytes) -> Any:
    try:
        return await _upload_one(self, job, content)
    except NotReached:
        return None


async def _told_before_stored(self: Tab, changes: Any, pictures: Any = None) -> Any:
    made = [op for op, worth in map(self._make_op, changes) if worth]
    for op in made:
        self.phone.watch.resolved(op)
    await self.disk.transact(lambda stores: self._add_ops(stores, made, pictures or {}))


async def _clear_first(self: Syncing, answer: Row, epoch: str | None, since: Row) -> bool:
    def clear(stores: Stores) -> None:
        if epoch is None:
            stores.base.clear()

    await self.tab.disk.transact(clear)
    return bool(await _take_page(self, answer, epoch, since))


_take_page = Syncing.take_page


def _queues_alone(self: Tab, stores: Stores) -> Any:
    return list(stores.outbox.values()), list(stores.parked.values()), list(stores.photo_jobs.values()), {}


async def _cursor_forgotten(self: Syncing, mine: Row) -> None:
    before = (self.tab.me or {}).get("grants", {})
    changed = [site for site, role in mine["grants"].items() if before.get(site, role) != role]

    def forget(stores: Stores) -> None:
        stores.meta["since"] = {
            site: rev for site, rev in (stores.meta.get("since") or {}).items() if site not in changed
        }

    await self.tab.disk.transact(forget)
    await self.tab.write_cell("me", mine)
    self.tab.me = mine


BUGS: dict[str, Bug] = {
    "no_dedupe": Bug(_swap((change, "kept_ops", lambda _ids: {}), (change, "keep_ops", _keep_new_ops))),
    "ack_on_send": Bug(_swap((Syncing, "push_batch", _ack_on_send))),
    "cursor_first": Bug(_swap((Syncing, "take_page", _cursor_first))),
    "cursor_clock": Bug(_swap((sync, "send_changes", _cursor_of_clock))),
    "cursor_one_too_far": Bug(_swap((sync, "send_changes", _cursor_one_too_far))),
    "pull_clobbers_outbox": Bug(_swap((Syncing, "take_rows", _pull_clobbers))),
    "pull_hides_pending": Bug(_swap((Tab, "shown", _base_over_pending))),
    "lww_row": Bug(_swap((merge, "merge", _whole_row_wins))),
    "loser_not_recorded": Bug(_swap((receive_changes._Push, "_clashes", lambda _self, _op, _lost: []))),
    "loser_unknown": Bug(_swap((merge, "merge", _silent))),
    "del_wins": Bug(_swap((merge, "drop", _delete_wins))),
    "no_undelete": Bug(_swap((merge, "merge", _stays_deleted)), DELETES),
    "self_conflict": Bug(_swap((merge, "_unseen", _clash_with_oneself))),
    "child_unnoticed": Bug(_swap((merge, "touch", _child_unnoticed)), DELETES),
    "park_blocks_queue": Bug(_swap((Syncing, "settle", _park_blocks))),
    "refused_is_forgotten": Bug(_swap((Syncing, "settle", _refused_is_forgotten))),
    "drop_deletes_outbox": Bug(_swap((Syncing, "take_rows", _drop_takes_outbox)), ROLES),
    "epoch_ignored": Bug(_swap((Syncing, "forget_epoch", _epoch_ignored)), RESTORES),
    "all_types_for_all": Bug(
        _swap((roles, "visible_types", lambda _role: tuple(roles._role("keeper")["see"])))
    ),
    "nothing_hidden": Bug(_swap((roles, "without_hidden", lambda _role, _type, fields: dict(fields)))),
    "photo_unhashed": Bug(_swap((take_in_photo, "sha256_of_bytes", lambda _content: ANY_HASH)), LATE_PHOTOS),
    "photo_sent_is_stored": Bug(_swap((Syncing, "upload_one", _sent_is_stored)), PHOTOS),
    "photos_not_settled": Bug(
        _swap(
            (take_in_photo, "_settle", lambda *_: 0),
            (take_in_photo, "settle_photos", lambda *_: 0),
            (sync, "settle_photos", lambda _site: 0),
        )
    ),
    "told_before_stored": Bug(_swap((Tab, "put_many", _told_before_stored))),
    # Found in the project by this simulation, and mended. Six more that it meets only once in hundreds or thousands of
    # seeds have a test each in web/src/store/net/recovery.test.ts: photos lost by a restore, a page that comes after a
    # new role, a tab that dies before it tells the others (of what it sent, of what it parked), a site taken away
    # before its first pull, a change sent before the tab that made it could show it.
    "row_not_sent_back_after_clash": Bug(
        _swap((receive_changes._Push, "_do", _no_row_back_after_clash)), SAME_ROWS
    ),
    "epoch_reuses_revs": Bug(_swap((clock, "new_epoch", _epoch_reuses_revs)), RESTORES),
    "base_cleared_first": Bug(_swap((Syncing, "take_page", _clear_first)), OFTEN_RESTORED),
    "queues_read_alone": Bug(_swap((Tab, "read_queues", _queues_alone))),
    "cursor_forgotten": Bug(_swap((Syncing, "adopt_me", _cursor_forgotten)), ROLES),
}


class _AnyHash(str):
    """A hash that is whatever it is compared with."""

    def __eq__(self, other: object) -> bool:
        return True

    def __ne__(self, other: object) -> bool:
        return False

    __hash__ = str.__hash__


ANY_HASH = _AnyHash()


@contextmanager
def planted(name: str) -> Iterator[How]:
    """Plant one bug; gives the kind of story to look for it in."""
    with ExitStack() as stack:
        BUGS[name].plant(stack)
        yield BUGS[name].how
