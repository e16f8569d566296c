"""Sending the outbox, as net/push.ts has it: each op leaves only when the server has answered for it by its id."""

from collections.abc import Sequence
from typing import Any

from tests.simulate.line import NotReached
from tests.simulate.phone.disk import Stores
from tests.simulate.phone.screen import Op, Row, key_of_row
from tests.simulate.phone.transport import Refused, Transport


class Push(Transport):
    """What one tab sends."""

    async def push_all(self) -> None:
        """Send until nothing waits."""
        most = self.tab.phone.habits.most_ops
        while batch := await self.next_batch(most):
            results = await self.push_batch(batch)
            if results is not None:
                await self.settle(batch, results)
            elif len(batch) > 1:
                most = -(-len(batch) // 2)
            else:
                await self.settle(batch, [{"op": batch[0]["op"], "st": "rejected", "code": "too_large"}])

    async def next_batch(self, most: int) -> list[Op]:
        """Return the first waiting ops."""
        ops = await self.tab.disk.transact(lambda stores: list(stores.outbox.values())[:most], writes=False)
        return list({op["op"]: op for op in ops}.values())

    async def push_batch(self, batch: Sequence[Op]) -> list[Row] | None:
        """Send one bite; None if the server found it too large."""
        epoch = await self.tab.disk.transact(lambda stores: stores.meta.get("epoch"), writes=False)
        try:
            answer = await self.ask("POST", "/api/sync/push", {"v": 1, "epoch": epoch, "ops": list(batch)})
        except Refused as error:
            if error.status == 413:
                return None
            raise
        if not isinstance(answer.get("epoch"), str) or not isinstance(answer.get("results"), list):
            raise NotReached("the push answer is not ours")
        known = {op["op"] for op in batch}
        results = [one for one in answer["results"] if one["op"] in known]
        if not results:
            raise NotReached("the push answer names none of the ops sent")
        return results

    async def settle(self, batch: Sequence[Op], results: Sequence[Row]) -> None:
        """Fold applied ops into the base rows, park rejected ones; all in one transaction."""
        by_op = {op["op"]: op for op in batch}
        answered = {one["op"] for one in results}

        def deed(stores: Stores) -> list[Row]:
            rows: dict[Any, Row] = {}
            for result in results:
                op = by_op[result["op"]]
                if result["st"] == "rejected":
                    stores.parked[op["op"]] = _parked(op, result)
                elif (row := self.folded(stores, op, result)) is not None:
                    stores.base[key_of_row(row)] = rows[key_of_row(row)] = row
                    self.know_site(stores, row["site"])
            for n in [n for n, op in stores.outbox.items() if op["op"] in answered]:
                del stores.outbox[n]
            return list(rows.values())

        folded = await self.tab.disk.transact(deed)
        newly = [_parked(by_op[one["op"]], one) for one in results if one["st"] == "rejected"]
        self.tab.parked = [*(one for one in self.tab.parked if one["id"] not in answered), *newly]

        async def show() -> None:
            self.tab.settle_pending(answered, folded)

        await self.tab.in_turn(show)
        self.tab.tell_tabs("rows", [key_of_row(row) for row in folded])

    def know_site(self, stores: Stores, site: str) -> None:
        """Have a cursor for a site that has rows here: else the server would never say that it was taken away."""
        since = stores.meta.get("since") or {}
        stores.meta["since"] = {**since, site: since.get(site, 0)}

    def folded(self, stores: Stores, op: Op, result: Row) -> Row | None:
        """Return the base row with a taken op in it; its rev stays what this phone has really seen."""
        old = stores.base.get((op["site"], op["type"], op["id"]))
        if op["kind"] == "del":
            if result["st"] == "clash" or old is None:
                return None
            return {**old, "deleted": True, "alive_rev": old["alive_rev"] if old["deleted"] else old["rev"]}
        shown = self.tab.replay_ops(old, [op])
        if shown is None:
            return None
        rev = (old["alive_rev"] if old["deleted"] else old["rev"]) if old else 0
        where = {
            "site": op["site"],
            "type": op["type"],
            "id": op["id"],
            "epoch": old["epoch"] if old else None,
        }
        return {**where, "rev": rev, "deleted": False, "alive_rev": rev, "d": shown}


def _parked(op: Op, result: Row) -> Row:
    return {"id": op["op"], "op": op, "code": result.get("code") or "bad_op", "say": result.get("say") or ""}
