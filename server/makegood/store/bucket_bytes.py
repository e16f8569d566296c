"""PhotoBytes in an S3-compatible bucket, for several server processes that keep nothing of their own.

    <site>/partial/<sha256>.<device>/<offset>    each chunk as it came
    <site>/blobs/<sha256>                        the original
    <site>/copies/<sha256>-1600.jpg

boto3 (`makegood[bucket]`) is loaded only when a bucket is named; it finds the keys the way it always does.
Between processes no lock is held: a chunk is written only where no chunk lies yet (If-None-Match), which the
bucket's service must honour, and all else may be done twice without harm.
"""

import re
import shutil
import tempfile
import threading
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import datetime
from typing import Any, BinaryIO, cast

from makegood.errors import Conflict, Unavailable
from makegood.store.photo_bytes import checked_sha256, checked_uuid
from makegood.store.photo_uploads import UploadKey

_LOCKS = 64
_IN_MEMORY_BYTES = 4 * 1024 * 1024
_THREAD_LOCKS = [threading.Lock() for _ in range(_LOCKS)]
_TAKEN = {"PreconditionFailed", "ConditionalRequestConflict", "412", "409"}
_MISSING = {"NoSuchKey", "404"}
_OFFSET = re.compile(r"/(\d{12})$")


def open_bucket(name: str, url: str) -> "BucketPhotoBytes":
    """Return the bucket as a place for photo bytes; `url` is its service, empty for the one boto3 knows."""
    import boto3

    return BucketPhotoBytes(boto3.client("s3", endpoint_url=url or None), name)


@contextmanager
def _told(offset: int | None = None) -> Iterator[None]:
    """Turn what the service answers into what the rest of the server understands."""
    from botocore.exceptions import BotoCoreError, ClientError

    try:
        yield
    except ClientError as error:
        code = str(error.response.get("Error", {}).get("Code", ""))
        if code in _MISSING:
            raise FileNotFoundError(code) from error
        if offset is not None and code in _TAKEN:
            at = {"offset": str(offset)}
            raise Conflict(
                "wrong_offset", "Two chunks came at once. Ask how far this photo is.", at
            ) from error
        raise _unreachable() from error
    except BotoCoreError as error:
        raise _unreachable() from error


def _unreachable() -> Unavailable:
    return Unavailable(
        "photo_store_unreachable",
        "The server cannot reach its photo store. Try again later; nothing is lost.",
    )


class BucketPhotoBytes:
    """PhotoBytes in a bucket; see the module for the names used in it."""

    def __init__(self, client: Any, bucket: str) -> None:
        self._client = client
        self._bucket = bucket

    @contextmanager
    def locked(self, site_id: str, sha256: str) -> Iterator[None]:
        """Hold off the other threads of this process that work on these bytes."""
        checked_uuid(site_id)
        with _THREAD_LOCKS[int(checked_sha256(sha256)[:4], 16) % _LOCKS]:
            yield

    def received(self, key: UploadKey) -> int:
        """Return how many bytes of an upload have arrived."""
        return sum(int(one["Size"]) for one in self._chunks(key))

    def touched_at(self, key: UploadKey) -> datetime | None:
        """Return when the last bytes of an upload arrived; None if there are none."""
        return max((one["LastModified"] for one in self._chunks(key)), default=None)

    def append(self, key: UploadKey, chunk: bytes) -> int:
        """Add bytes to an upload; return how many there are now."""
        offset = self.received(key)
        if chunk:
            name = f"{_partial(key)}/{offset:012d}"
            with _told(offset):
                self._client.put_object(Bucket=self._bucket, Key=name, Body=chunk, IfNoneMatch="*")
        return offset + len(chunk)

    def open_received(self, key: UploadKey) -> BinaryIO:
        """Open what has arrived for reading."""
        whole = _spool()
        for one in self._chunks(key):
            self._fetch(one["Key"], whole)
        whole.seek(0)
        return whole

    def drop_received(self, key: UploadKey) -> None:
        """Forget what has arrived."""
        self._delete([one["Key"] for one in self._listed(f"{_partial(key)}/")])

    def keep(self, key: UploadKey) -> None:
        """Keep a complete upload as the original."""
        with self.open_received(key) as whole, _told():
            self._client.put_object(Bucket=self._bucket, Key=_original(key.site_id, key.sha256), Body=whole)
        self.drop_received(key)

    def keep_copies(self, site_id: str, sha256: str, copies: dict[int, bytes]) -> None:
        """Keep copies of an original, by size [px]."""
        for size_px, content in copies.items():
            name = _copy(site_id, sha256, size_px)
            with _told():
                self._client.put_object(Bucket=self._bucket, Key=name, Body=content, ContentType="image/jpeg")

    def open_original(self, site_id: str, sha256: str) -> BinaryIO:
        """Open an original; FileNotFoundError if it is not kept."""
        return self._open(_original(site_id, sha256))

    def open_copy(self, site_id: str, sha256: str, size_px: int) -> BinaryIO:
        """Open a copy; FileNotFoundError if it is not kept."""
        return self._open(_copy(site_id, sha256, size_px))

    def drop_idle(self, site_id: str, since: datetime) -> int:
        """Forget uploads of a site that got no bytes since then; return how many."""
        last: dict[str, datetime] = {}
        names: dict[str, list[str]] = {}
        for one in self._listed(f"{checked_uuid(site_id)}/partial/"):
            upload = one["Key"].rsplit("/", 1)[0]
            last[upload] = max(one["LastModified"], last.get(upload, one["LastModified"]))
            names.setdefault(upload, []).append(one["Key"])
        idle = [upload for upload, at in last.items() if at < since]
        for upload in idle:
            self._delete(names[upload])
        return len(idle)

    def _listed(self, prefix: str) -> Iterator[dict[str, Any]]:
        with _told():
            for page in self._client.get_paginator("list_objects_v2").paginate(
                Bucket=self._bucket, Prefix=prefix
            ):
                yield from page.get("Contents", [])

    def _chunks(self, key: UploadKey) -> list[dict[str, Any]]:
        """Return the chunks that join on to each other from the first byte on; names sort as offsets."""
        joined, reached = [], 0
        for one in self._listed(f"{_partial(key)}/"):
            found = _OFFSET.search(one["Key"])
            if found and int(found[1]) == reached:
                joined.append(one)
                reached += int(one["Size"])
        return joined

    def _open(self, name: str) -> BinaryIO:
        whole = _spool()
        self._fetch(name, whole)
        whole.seek(0)
        return whole

    def _fetch(self, name: str, into: BinaryIO) -> None:
        with _told(), closing(self._client.get_object(Bucket=self._bucket, Key=name)["Body"]) as body:
            shutil.copyfileobj(body, into)

    def _delete(self, names: list[str]) -> None:
        for start in range(0, len(names), 1000):  # as many as the service takes at once
            some = [{"Key": name} for name in names[start : start + 1000]]
            with _told():
                self._client.delete_objects(Bucket=self._bucket, Delete={"Objects": some, "Quiet": True})


def _spool() -> BinaryIO:
    return cast(BinaryIO, tempfile.SpooledTemporaryFile(max_size=_IN_MEMORY_BYTES))


def _partial(key: UploadKey) -> str:
    name = f"{checked_sha256(key.sha256)}.{checked_uuid(key.device_id)}"
    return f"{checked_uuid(key.site_id)}/partial/{name}"


def _original(site_id: str, sha256: str) -> str:
    return f"{checked_uuid(site_id)}/blobs/{checked_sha256(sha256)}"


def _copy(site_id: str, sha256: str, size_px: int) -> str:
    return f"{checked_uuid(site_id)}/copies/{checked_sha256(sha256)}-{size_px:d}.jpg"
