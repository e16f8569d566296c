"""Photo bytes in a bucket, on a mock of the S3 service that runs beside the tests: the same promises as the folder."""

import hashlib
import io
import threading
from datetime import UTC, datetime, timedelta

import boto3
import pytest
from moto.server import ThreadedMotoServer

from makegood.app import create_app
from makegood.errors import Conflict, Unavailable
from makegood.settings import Settings
from makegood.store.bucket_bytes import BucketPhotoBytes, open_bucket
from makegood.store.photo_bytes import sha256_of_bytes
from makegood.store.photo_uploads import UploadKey
from tests.api.test_photos import Sending, add_photo, fetch, picture
from tests.make import make_grounds, make_id
from tests.postgres import free_port

SHA = hashlib.sha256(b"a wall").hexdigest()
BUCKET = "walls"


@pytest.fixture(scope="module")
def service():
    """The address of an S3 service with one bucket."""
    port = free_port()
    server = ThreadedMotoServer("127.0.0.1", port, verbose=False)
    server.start()
    yield f"http://127.0.0.1:{port}"
    server.stop()


@pytest.fixture
def client(service, monkeypatch):
    for name in ("AWS_ACCESS_KEY_ID", "AWS_SECRET_ACCESS_KEY"):
        monkeypatch.setenv(name, "only-for-tests")
    monkeypatch.setenv("AWS_DEFAULT_REGION", "us-east-1")
    monkeypatch.setenv("AWS_MAX_ATTEMPTS", "1")
    client = boto3.client("s3", endpoint_url=service)
    client.create_bucket(Bucket=BUCKET)
    return client


@pytest.fixture
def bucket(client, service):
    return open_bucket(BUCKET, service)


@pytest.fixture
def key():
    return UploadKey(make_id(), SHA, make_id())


def names(client, prefix):
    """Return what lies below a prefix."""
    return [one["Key"] for one in client.list_objects_v2(Bucket=BUCKET, Prefix=prefix).get("Contents", [])]


def test_upload_grows_chunk_by_chunk_and_survives_a_restart(bucket, key, service):
    assert (bucket.received(key), bucket.touched_at(key)) == (0, None)
    assert bucket.append(key, b"a ") == 2
    assert open_bucket(BUCKET, service).append(key, b"wall") == 6
    assert bucket.received(key) == 6
    assert datetime.now(UTC) - bucket.touched_at(key) < timedelta(minutes=1)
    with bucket.open_received(key) as content:
        assert sha256_of_bytes(content) == SHA
    assert bucket.append(key, b"") == 6
    assert bucket.received(UploadKey(key.site_id, SHA, make_id())) == 0


def test_kept_photo_is_whole_and_its_chunks_are_gone(bucket, key, client):
    for _ in range(2):
        bucket.append(key, b"a wall")
        bucket.keep(key)
        bucket.keep_copies(key.site_id, SHA, {400: b"small"})
    with bucket.open_original(key.site_id, SHA) as content:
        assert content.read() == b"a wall"
        assert content.seek(0, io.SEEK_END) == 6
    with bucket.open_copy(key.site_id, SHA, 400) as content:
        assert content.read() == b"small"
    assert names(client, f"{key.site_id}/") == [
        f"{key.site_id}/blobs/{SHA}",
        f"{key.site_id}/copies/{SHA}-400.jpg",
    ]
    for missing in (
        lambda: bucket.open_original(make_id(), SHA),
        lambda: bucket.open_copy(key.site_id, SHA, 1600),
    ):
        with pytest.raises(FileNotFoundError):
            missing()


def test_of_two_processes_that_send_the_same_chunk_one_is_told_to_ask(bucket, key, client):
    other = BucketPhotoBytes(client, BUCKET)
    other.received = lambda _key: 0  # it asked before the first chunk lay there
    bucket.append(key, b"a ")
    with pytest.raises(Conflict) as told:
        other.append(key, b"a wall")
    assert (told.value.code, told.value.fields) == ("wrong_offset", {"offset": "0"})
    assert bucket.received(key) == 2


def test_chunk_that_does_not_join_on_is_not_counted(bucket, key, client):
    bucket.append(key, b"a ")
    stray = f"{key.site_id}/partial/{SHA}.{key.device_id}/000000000005"
    client.put_object(Bucket=BUCKET, Key=stray, Body=b"x")
    assert bucket.received(key) == 2
    bucket.drop_received(key)
    assert names(client, f"{key.site_id}/") == []


def test_idle_uploads_are_dropped_and_fresh_ones_stay(bucket, key):
    bucket.append(key, b"a ")
    bucket.append(key, b"wall")
    now = datetime.now(UTC)
    assert bucket.drop_idle(key.site_id, now - timedelta(days=7)) == 0
    assert bucket.drop_idle(key.site_id, now + timedelta(minutes=1)) == 1
    assert bucket.received(key) == 0


def test_lock_lets_one_in_at_a_time(bucket, key):
    inside, most = [], []

    def work():
        with bucket.locked(key.site_id, SHA):
            inside.append(1)
            most.append(len(inside))
            inside.pop()

    threads = [threading.Thread(target=work) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert most == [1] * 8


@pytest.mark.parametrize("name", ["../../etc/passwd", "", "AB" * 32])
def test_names_that_are_no_hash_reach_nothing(bucket, key, name):
    with pytest.raises(ValueError, match="not a name"):
        bucket.open_original(key.site_id, name)


def test_service_that_does_not_answer_is_a_sentence(client, key):
    nowhere = open_bucket(BUCKET, f"http://127.0.0.1:{free_port()}")
    with pytest.raises(Unavailable) as told:
        nowhere.append(key, b"a ")
    assert told.value.code == "photo_store_unreachable"


def test_photo_goes_up_and_comes_back_through_the_server(client, service, settings, tmp_path):
    where = Settings(
        data=settings.data, database_url=settings.database_url, photo_bucket=BUCKET, photo_bucket_url=service
    )
    grounds = make_grounds(create_app(where))
    content = picture(size=(1800, 1350))
    assert len(content) > 1024 * 1024
    photo = add_photo(grounds, content)
    assert Sending(grounds.keeper, grounds.site, content).send().status_code == 204
    assert fetch(grounds.keeper, grounds, photo, "original").data == content
    assert fetch(grounds.keeper, grounds, photo, "400").status_code == 200
    assert not (where.data / "photos" / grounds.site).exists()
    assert grounds.keeper.pull().row("photo", photo)["stored"] is True
