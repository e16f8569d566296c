"""Sending photo bytes in chunks, as net/upload.ts has it: only the server's own word that it has them counts."""

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
                offset = await self._ask_offset(url, len(content))
                if offset is None:
                    offset = await self._create(url, len(content))
                await self._send_from(url, content, offset)
                return await self.confirm(url)
            except Refused as error:
                if error.status in (401, 429) or error.status >= 500:
                    raise
                refusal = error
                if error.status not in (409, 410, 460):
                    return error
        return refusal

    async def _ask_offset(self, url: str, length: int) -> int | None:
        reply = await self.send("HEAD", url, {})
        if reply.status in (404, 410):
            return None
        if reply.status in (401, 403, 429):
            raise Refused("head", reply.status)
        if reply.status >= 300:
            raise NotReached(f"HEAD answered {reply.status}")
        return length if reply.headers.get("Upload-Complete") == "?1" else _offset_of(reply)

    async def _create(self, url: str, length: int) -> int:
        reply = await self.send("PUT", f"{url}?length={length}", _CHUNK_TYPE)
        if reply.status >= 300:
            raise refusal_of(reply)
        return (await self._ask_offset(url, length)) or 0

    async def _send_from(self, url: str, content: bytes, offset: int) -> None:
        while offset < len(content):
            chunk = content[offset : offset + self.tab.phone.habits.chunk]
            reply = await self.send("PATCH", url, {**_CHUNK_TYPE, "Upload-Offset": str(offset)}, chunk)
            if reply.status >= 300:
                raise refusal_of(reply)
            arrived = _offset_of(reply)
            if arrived <= offset:
                raise NotReached("the upload does not move on")
            offset = arrived

    async def confirm(self, url: str) -> None:
        """Only the server's own word that it has every byte counts as sent."""
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


def _offset_of(reply: Reply) -> int:
    told = reply.headers.get("Upload-Offset", "")
    if not told.isdecimal():
        raise NotReached("no upload offset in the answer")
    return int(told)
