"""Sending photo bytes in chunks, as net/upload.ts has it: only the server's own word that it has them counts."""

from typing import NamedTuple

from tests.simulate.line import NotReached
from tests.simulate.phone.disk import Stores
from tests.simulate.phone.screen import Row
from tests.simulate.phone.transport import Refused, Transport, refusal_of
from tests.simulate.server import Reply

_CHUNK_TYPE = {"Content-Type": "application/offset+octet-stream"}
_MOST_STARTS = 3


class Upload(Transport):
    """What one tab sends of photos."""

    async def upload_all(self) -> None:
        """Send the bytes of every photo whose row the server has."""
        for job in [one for one in self.tab.jobs if one["state"] == "waiting"]:
            waits = any(op["type"] == "photo" and op["id"] in job["photo_ids"] for op in self.tab.pending)
            parked = {one["op"]["id"] for one in self.tab.parked}
            if waits or all(one in parked for one in job["photo_ids"]):
                continue
            content = await self.tab.disk.transact(
                lambda stores, sha256=job["sha256"]: stores.photo_bytes.get(sha256), writes=False
            )
            lost = Refused("photo_bytes_missing", 0)
            await self.close_job(job, await self.upload_one(job, content) if content else lost)

    async def upload_one(self, job: Row, content: bytes) -> Refused | None:
        """Send one photo; returns the refusal if the server will not have it."""
        url = f"/api/blobs/{job['site']}/{job['sha256']}"
        refusal: Refused | None = None
        for _ in range(_MOST_STARTS):
            try:
                stands = await self._ask(url) or await self._create(url, content)
                if not stands.complete:
                    stands = await self._send_from(url, content, stands.offset)
                return None if stands.complete else await self.confirm(url)
            except Refused as error:
                if error.status in (401, 429) or error.status >= 500:
                    raise
                refusal = error
                if error.status not in (409, 410, 460):
                    return error
        return refusal

    async def _ask(self, url: str) -> "_Stands | None":
        reply = await self.send("HEAD", url, {})
        if reply.status in (404, 410):
            return None
        if reply.status in (401, 403, 429):
            raise Refused("head", reply.status)
        if reply.status >= 300:
            raise NotReached(f"HEAD answered {reply.status}")
        return self.stands_at(reply)

    async def _create(self, url: str, content: bytes) -> "_Stands":
        first = content[: self.tab.phone.habits.chunk]
        reply = await self.send("PUT", f"{url}?length={len(content)}", _CHUNK_TYPE, first)
        if reply.status >= 300:
            raise refusal_of(reply)
        return self.stands_at(reply)

    async def _send_from(self, url: str, content: bytes, offset: int) -> "_Stands":
        while True:
            chunk = content[offset : offset + self.tab.phone.habits.chunk]
            reply = await self.send("PATCH", url, {**_CHUNK_TYPE, "Upload-Offset": str(offset)}, chunk)
            if reply.status >= 300:
                raise refusal_of(reply)
            stands = self.stands_at(reply)
            if chunk and stands.offset <= offset:
                raise NotReached("the upload does not move on")
            if stands.offset >= len(content):
                return stands
            offset = stands.offset

    def stands_at(self, reply: Reply) -> "_Stands":
        """Read how far the server says it is; an answer that does not say so is not the server's."""
        return _Stands(_offset_of(reply), reply.headers.get("Upload-Complete") == "?1")

    async def confirm(self, url: str) -> None:
        """Only the server's own word that it has every byte counts as sent; where no answer said so, it is asked."""
        reply = await self.send("HEAD", url, {})
        if reply.headers.get("Upload-Complete") != "?1":
            raise NotReached("not confirmed")

    async def close_job(self, job: Row, end: Refused | None) -> None:
        """Note how a photo fared."""

        def deed(stores: Stores) -> list[Row]:
            key = (job["site"], job["sha256"])
            state = {"state": "refused" if end else "sent", "code": end.code if end else None}
            stores.photo_jobs[key] = {**stores.photo_jobs.get(key, job), **state}
            return list(stores.photo_jobs.values())

        self.tab.jobs = await self.tab.disk.transact(deed)
        self.tab.tell_tabs("queues")

    async def retry_photos(self) -> None:
        """Have refused photos tried once more."""

        def deed(stores: Stores) -> list[Row]:
            for key, job in stores.photo_jobs.items():
                if job["state"] == "refused":
                    stores.photo_jobs[key] = {**job, "state": "waiting", "code": None}
            return list(stores.photo_jobs.values())

        self.tab.jobs = await self.tab.disk.transact(deed)
        self.tab.tell_tabs("queues")


class _Stands(NamedTuple):
    offset: int
    complete: bool


def _offset_of(reply: Reply) -> int:
    told = reply.headers.get("Upload-Offset", "")
    if not told.isdecimal():
        raise NotReached("no upload offset in the answer")
    return int(told)
