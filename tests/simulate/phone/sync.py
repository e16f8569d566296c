"""The loop, as net/sync.ts has it: push, then pull, then photo bytes; one tab at a time."""

from tests.simulate.line import NotReached
from tests.simulate.phone.disk import StoreTrouble
from tests.simulate.phone.pull import Pull
from tests.simulate.phone.push import Push
from tests.simulate.phone.transport import Refused
from tests.simulate.phone.upload import Upload


class Syncing(Push, Pull, Upload):
    """The loop of one tab."""

    async def sync_now(self) -> None:
        """Send and take in now, unless another deed of this tab, or another tab, is at it."""
        tab = self.tab
        if tab.running:
            tab.again = True
            return
        tab.running = True
        try:
            tab.again = True
            while tab.again:
                tab.again = False
                await self._in_one_tab()
        finally:
            tab.running = False

    async def _in_one_tab(self) -> None:
        if self.tab.disk.lock is not None:
            return
        self.tab.disk.lock = self.tab
        try:
            await self._round()
        finally:
            self.tab.disk.lock = None

    async def _round(self) -> None:
        try:
            if self.tab.me:
                await self.catch_up()
                await self._exchange()
            self.problem = None
        except (NotReached, Refused, StoreTrouble) as error:
            self.problem = str(error) or type(error).__name__
            if isinstance(error, Refused) and error.status == 401:
                await self._set_signed_out(True)

    async def _exchange(self) -> None:
        tries = 0
        while True:
            try:
                await self.push_all()
                await self.pull_all()
                break
            except Refused as error:
                if tries >= 2 or (error.code != "epoch_changed" and error.status != 403):
                    raise
                await (self.forget_epoch() if error.code == "epoch_changed" else self.refresh_me())
            tries += 1
        await self._set_signed_out(False)
        await self.learn_new_grants()
        await self.upload_all()

    async def catch_up(self) -> None:
        """See what another tab has stored of which its word never came, because it died."""
        since, *stored = await self.tab.disk.transact(
            lambda stores: (
                stores.meta.get("since") or {},
                list(stores.outbox),
                sorted(stores.parked),
                [job["state"] for job in stores.photo_jobs.values()],
            ),
            writes=False,
        )
        if since != self.tab.shown_since:
            await self.tab.reload_all()
        tab = self.tab
        parked = sorted(one["id"] for one in tab.parked)
        if stored != [[op["n"] for op in tab.pending], parked, [job["state"] for job in tab.jobs]]:
            await tab.load_queues()

    async def learn_new_grants(self) -> None:
        """A site that this device now gets but was not granted before: ask which role it has there."""
        since = await self.tab.disk.transact(lambda stores: stores.meta.get("since") or {}, writes=False)
        if sorted(since) != sorted((self.tab.me or {}).get("grants", {})):
            await self.refresh_me()

    async def _set_signed_out(self, out: bool) -> None:
        if self.tab.signed_out != out:
            await self.tab.write_cell("signed_out", out)
            self.tab.signed_out = out
