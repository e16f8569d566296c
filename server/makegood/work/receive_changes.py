"""Take a phone's outbox: each op is done, or refused with a sentence, and none bars the way of the next."""

import logging
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any
from uuid import UUID, uuid5

from makegood.domain import merge, roles
from makegood.domain.lineage import parents
from makegood.domain.op import DROP, PUT, Op, op_id_of, read_op
from makegood.domain.row import Key, Row, check_fields, is_append_only, write_instant
from makegood.domain.scope import COVERING, Scope
from makegood.domain.shape import check_shapes
from makegood.domain.step import Doer, check_second_look, last_done, place_step
from makegood.domain.ticket import TicketStep
from makegood.errors import BadInput, MakegoodError, NotAllowed
from makegood.store import change, clock
from makegood.store import device as devices
from makegood.store.database import retried, writing
from makegood.store.desk import Desk
from makegood.store.people.coverage import Watch, whole_scope
from makegood.store.row import fetch_all

_FAULT = "The server met a fault with this change; it stays on your phone. The server's log says more."
log = logging.getLogger(__name__)


@dataclass(frozen=True)
class Result:
    """The answer to one op. `st`: applied, clash, rejected; `fields`: those that clashed or were refused."""

    op: str | None
    st: str
    rev: int | None = None
    code: str | None = None
    say: str | None = None
    fields: tuple[str, ...] = ()


def receive_changes(device: devices.Device, raw_ops: Sequence[object], now: datetime) -> list[Result]:
    """Do what can be done of these ops, in order, in one transaction; answer each, in order."""

    def deed() -> list[Result]:
        with writing():
            return _Push(device, now).take(raw_ops)

    return retried(deed)


class _Push:
    def __init__(self, device: devices.Device, now: datetime) -> None:
        self.device = device
        self.now = now
        self.came_at = write_instant(now)
        self.grants = dict(device.grants)
        self.scopes: dict[str, Scope] = {}
        self.desk = Desk()
        self.before: dict[str, change.KeptOp] = {}
        self.done: dict[str, tuple[Op, Result]] = {}

    def take(self, raw_ops: Sequence[object]) -> list[Result]:
        ids = [one for raw in raw_ops if (one := op_id_of(raw))]
        self.before = change.kept_ops(ids)
        ops = [_read(raw) for raw in raw_ops]
        self._lay_out(one for one in ops if isinstance(one, Op))
        drafts = [self._answer(op) if isinstance(op, Op) else op for op in ops]
        watch = Watch(row for row_type in COVERING for row in self.desk.touched(row_type))
        revs = self.desk.finish()
        watch.settle()
        final = {op.op: _with_rev(draft, op, revs) for op, draft in self.done.values()}
        change.keep_ops(self._kept(op, final[op.op]) for op, _ in self.done.values())
        # An op sent twice in one push has one answer, that of the first.
        return [
            final[draft.op] if draft.op in final and draft.code != "op_reused" else draft for draft in drafts
        ]

    def _lay_out(self, ops: Iterable[Op]) -> None:
        self.desk.lay_out(key for op in ops for key in (_key(op), *parents(op.type, op.site, op.set)))

    def _answer(self, op: Op) -> Result:
        if op.op in self.before or op.op in self.done:
            return self._again(op)
        try:
            result = self._do(op)
        except MakegoodError as refused:
            result = _rejected(op.op, refused)
        except Exception:
            log.exception("op %s could not be done", op.op)
            result = Result(op.op, "rejected", code="bad_op", say=_FAULT)
        self.done[op.op] = (op, result)
        return result

    def _again(self, op: Op) -> Result:
        kept = self.before.get(op.op)
        same = _content(kept) == _content(op) if kept else self.done[op.op][0] == op
        if not same:
            raise_as = BadInput(
                "op_reused", "This change carries the number of an earlier, different one.", {"op": "reused"}
            )
            return _rejected(op.op, raise_as)
        return _read_result(kept.result) if kept else self.done[op.op][1]

    def _kept(self, op: Op, result: Result) -> change.KeptOp:
        return change.KeptOp(
            op.op,
            op.site,
            self.device.id,
            op.type,
            op.id,
            op.kind,
            dict(op.set),
            op.base,
            op.at,
            self.came_at,
            result.st,
            {**vars(result), "fields": list(result.fields)},
        )

    def _do(self, op: Op) -> Result:
        role = self._role(op)
        row = self.desk.get(_key(op))
        self._check_scope(op, row)
        # It counts as made no later than it came.
        edit = merge.Edit(op.op, self.device.id, op.base, min(op.at, self.came_at))
        if op.kind == DROP:
            rows, lost = self._drop(op, row, role, edit)
        elif row is not None and is_append_only(op.type):
            return self._repeat(op, row, role)
        else:
            rows, lost = self._put(op, row, role, edit)
        if op.site not in self.grants:
            self._found(op.site)
        if lost:
            # Even if nothing in it changed, the row goes out anew: until then its editor shows what lost.
            rows = [replace(one) for one in rows]
        for one in [*rows, *self._clashes(op, lost)]:
            self.desk.put(one)
        stands = self.desk.get(_key(op))
        fields = tuple(one.field for one in lost)
        return Result(
            op.op, "clash" if lost else "applied", rev=stands.rev if stands else None, fields=fields
        )

    def _role(self, op: Op) -> str:
        if op.type == "site" and op.id != op.site:
            raise BadInput(
                "wrong_site", "A site's row must carry the site's own id.", {"id": "differs from site"}
            )
        if role := self.grants.get(op.site):
            return role
        if op.type == "site" and op.kind == PUT and self.device.may_found and not clock.is_started(op.site):
            return "keeper"
        raise NotAllowed(
            "not_allowed",
            "This device has no part in that site. Ask its keeper for a link.",
            {"site": "no part"},
        )

    def _check_scope(self, op: Op, row: Row | None) -> None:
        """Hold a limited device to its hand-outs; whether other rows exist, it is not told."""
        scope = self._scope(op.site)
        if scope is None:
            return
        if row is not None:
            within = row.rev == 0 or scope.holds(row.key)
        else:
            makes = roles.limited_makes(op.type)
            above = parents(op.type, op.site, op.set)
            made_now = {one.key for one in self.desk.touched("step") if one.rev == 0}
            within = op.kind == PUT and bool(makes)
            within = within and all(one in made_now or scope.holds_parent(*one[::2], makes) for one in above)
        if not within:
            raise NotAllowed(
                "not_allowed",
                "This is not on a list handed out to you, or no longer. Ask the site's keeper.",
                {"id": "not handed out"},
            )

    def _scope(self, site_id: str) -> Scope | None:
        if site_id in self.device.limited and site_id not in self.scopes:
            self.scopes[site_id] = whole_scope(site_id, self.device.id)
        return self.scopes.get(site_id)

    def _found(self, site_id: str) -> None:
        clock.start_site(site_id)
        devices.grant(self.device.id, site_id, "keeper")
        self.grants[site_id] = "keeper"

    def _drop(
        self, op: Op, row: Row | None, role: str, edit: merge.Edit
    ) -> tuple[list[Row], list[merge.Lost]]:
        if is_append_only(op.type):
            raise BadInput(
                "append_only",
                f"A {op.type} is kept as it was written and cannot be deleted.",
                {"type": "append only"},
            )
        self._allow(role, "drop", op)
        if row is None:
            return [], []
        dropped, lost = merge.drop(row, edit)
        return [dropped], lost

    def _repeat(self, op: Op, row: Row, role: str) -> Result:
        given = check_fields(op.type, op.set, False, self.now.date())
        given = check_shapes(op.type, given, self._wall(op.type, op.site, row.fields))
        stands = row.fields if row.made_on_device == self.device.id else self._as_seen(row, role)
        if any(stands[name] != value for name, value in given.items()):
            sentence = f"A {op.type} is kept as it was written; add a new one instead."
            raise BadInput("append_only", sentence, {"type": "append only"})
        return Result(op.op, "applied", rev=row.rev)

    def _as_seen(self, row: Row, role: str) -> dict[str, Any]:
        # What a role may not know, it must not learn by guessing either.
        if scope := self._scope(row.site_id):
            return roles.as_limited_sees(row.type, row.fields, scope.show_place)
        return roles.without_hidden(role, row.type, row.fields)

    def _put(
        self, op: Op, row: Row | None, role: str, edit: merge.Edit
    ) -> tuple[list[Row], list[merge.Lost]]:
        self._allow(role, "edit" if row else "make", op)
        given = check_fields(op.type, op.set, row is None, self.now.date())
        fields = {**(row.fields if row else {}), **given}
        above = self._parents(op, fields)
        given = check_shapes(op.type, given, self._wall(op.type, op.site, fields))
        if op.type == "step":
            given["at"] = self._step_at(op, role, given)
        if row is None:
            stands, lost = self._new(op, given, edit), list[merge.Lost]()
        else:
            stands, lost = merge.merge(row, replace(edit, set=given))
        if (
            row
            and not row.deleted
            and parents(op.type, op.site, row.fields) == parents(op.type, op.site, fields)
        ):
            return [stands], lost
        touched, also_lost = self._touch(above, edit)
        return [*touched, stands], [*lost, *also_lost]

    def _allow(self, role: str, deed: str, op: Op) -> None:
        if not roles.may(role, deed, op.type):
            sentence = f"A {role} may not {deed} a {op.type} here. Ask the site's keeper."
            raise NotAllowed("not_allowed", sentence, {"type": "not allowed"})

    def _new(self, op: Op, fields: dict[str, Any], edit: merge.Edit) -> Row:
        fv = dict.fromkeys(op.set, edit.stamp)
        person, here = self.device.person, self.device.id
        return Row(op.type, op.site, op.id, fields, fv, made_at=edit.at, made_by=person, made_on_device=here)

    def _parents(self, op: Op, fields: dict[str, Any]) -> list[Row]:
        found = []
        for key in parents(op.type, op.site, fields):
            row = self.desk.get(key)
            if row is None:
                sentence = f"The {key.type} this belongs to is not on the server. Send that first."
                raise BadInput("parent_missing", sentence, {key.type: "missing"})
            found.append(row)
        return found

    def _touch(self, rows: list[Row], edit: merge.Edit) -> tuple[list[Row], list[merge.Lost]]:
        touched, lost = list[Row](), list[merge.Lost]()
        for row in rows:
            stands, gone = merge.touch(row, edit)
            touched.append(stands)
            lost += gone
            above = [
                up
                for key in parents(row.type, row.site_id, row.fields)
                if (up := self.desk.get(key)) and up.deleted
            ]
            more, also_gone = self._touch(above, edit)
            touched += more
            lost += also_gone
        return touched, lost

    def _wall(self, row_type: str, site_id: str, fields: dict[str, Any]) -> object:
        """Return the surface a row's shapes lie on; None for rows that lie on none."""
        if row_type == "elevation":
            return fields.get("surface")
        if row_type == "reading":
            defect = self.desk.get(Key("defect", site_id, fields["defect_id"]))
            return self._wall("defect", site_id, defect.fields) if defect else None
        if row_type not in ("defect", "finish"):
            return None
        elevation = self.desk.get(Key("elevation", site_id, fields["elevation_id"]))
        return elevation.fields["surface"] if elevation else None

    def _step_at(self, op: Op, role: str, given: dict[str, Any]) -> str:
        if not roles.may_step(role, given["kind"]):
            raise NotAllowed(
                "not_allowed", f"A {role} may not mark a ticket “{given['kind']}”.", {"kind": "not allowed"}
            )
        ticket = given["ticket_id"]
        steps = fetch_all("step", op.site, ticket_id=ticket)
        steps += [
            one
            for one in self.desk.touched("step")
            if one.site_id == op.site and one.fields["ticket_id"] == ticket
        ]
        there = [TicketStep(one.fields["kind"], one.fields["at"], one.id) for one in steps]
        at = place_step(there, given["kind"], given["at"])
        doers = {one.id: Doer(one.made_by, one.made_on_device) for one in steps}
        did_it = doers.get(last_done(there) or "")
        me = Doer(self.device.person, self.device.id)
        check_second_look(given["kind"], me, did_it, role, given.get("own_work"))
        return at

    def _clashes(self, op: Op, lost: list[merge.Lost]) -> list[Row]:
        names = devices.persons({one.kept_by for one in lost} | {one.lost_by for one in lost})
        return [self._clash(op, one, names) for one in lost]

    def _clash(self, op: Op, lost: merge.Lost, names: dict[str, str]) -> Row:
        fields = {
            "of_type": lost.of.type,
            "of_id": lost.of.id,
            "field": lost.field,
            "kept": lost.kept,
            "lost": lost.lost,
            "kept_by": names.get(lost.kept_by, lost.kept_by),
            "lost_by": names.get(lost.lost_by, lost.lost_by),
            "chosen": None,
        }
        clash_id = str(uuid5(UUID(op.op), f"{lost.of.type} {lost.of.id} {lost.field}"))
        person, here = self.device.person, self.device.id
        return Row(
            "clash",
            op.site,
            clash_id,
            fields,
            made_at=self.came_at,
            made_by=person,
            made_on_device=here,
        )


def _read(raw: object) -> Op | Result:
    """Return the op, or the answer to what cannot be read as one."""
    try:
        return read_op(raw)
    except MakegoodError as refused:
        return _rejected(op_id_of(raw), refused)


def _key(op: Op) -> Key:
    return Key(op.type, op.site, op.id)


def _rejected(op_id: str | None, refused: MakegoodError) -> Result:
    return Result(op_id, "rejected", code=refused.code, say=refused.message, fields=tuple(refused.fields))


def _with_rev(draft: Result, op: Op, revs: dict[Key, int]) -> Result:
    if draft.st == "rejected":
        return draft
    return replace(draft, rev=revs.get(_key(op), draft.rev))


def _content(op: Op | change.KeptOp) -> tuple[object, ...]:
    if isinstance(op, Op):
        return (op.site, op.type, op.id, op.kind, op.base, op.at, dict(op.set))
    return (op.site_id, op.type, op.id, op.kind, op.base, op.at, op.body)


def _read_result(kept: Any) -> Result:
    return Result(**{**kept, "fields": tuple(kept["fields"])})
