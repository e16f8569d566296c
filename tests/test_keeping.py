"""The commands that keep a site safe, as a person runs them."""

import threading

import pytest

from makegood.__main__ import main
from makegood.app import create_app
from makegood.settings import Settings
from makegood.store import clock
from tests.api.test_photos import Sending, add_photo, fetch, picture, sha
from tests.make import Phone, make_grounds, make_id, make_op


def run(capsys, *words):
    """Run a command; return its exit status and all it said."""
    status = main([str(word) for word in words])
    said = capsys.readouterr()
    return status, said.out + said.err


@pytest.fixture
def site(sqlite_settings):
    """A running site with a defect and a stored photo: app, grounds, photo id, its bytes."""
    app = create_app(sqlite_settings)
    grounds = make_grounds(app)
    grounds.add("defect", note="Hollow")
    content = picture()
    photo = add_photo(grounds, content)
    assert Sending(grounds.keeper, grounds.site, content).send().status_code == 204
    return app, grounds, photo, content


def on(app, phone):
    """Return the same phone, talking to another server under the same session."""
    client = app.test_client()
    cookie = phone.client.get_cookie("makegood")
    client.set_cookie("makegood", cookie.value)
    return Phone(client, phone.csrf, phone.device_id, dict(phone.since), dict(phone.rows))


def test_site_comes_back_from_its_backup_and_phones_notice(site, sqlite_settings, tmp_path, capsys):
    app, grounds, photo, content = site
    with app.app_context():
        before = clock.epoch()
    file, again = tmp_path / "away" / "site.backup", tmp_path / "again"
    assert run(capsys, "backup", file, "--data", sqlite_settings.data)[0] == 0
    late = grounds.add("defect", note="After the backup")
    status, said = run(capsys, "restore", file, "--data", again)
    assert (status, "Restored" in said) == (0, True)
    restored = create_app(Settings(data=again))
    phone = on(restored, grounds.keeper)
    with restored.app_context():
        assert clock.epoch() != before
    refused = phone.post("/api/sync/pull", {"v": 1, "epoch": before, "since": {}})
    assert (refused.status_code, refused.json["code"]) == (409, "epoch_changed")
    phone.since, phone.rows = {}, {}
    notes = [row["note"] for row in phone.pull().all("defect")]
    assert notes == ["Hollow"]
    assert fetch(phone, grounds, photo, "original").data == content
    assert (
        phone.push(make_op("defect", grounds.site, late, set={"elevation_id": grounds.elevation}))[0]["st"]
        == "applied"
    )
    assert run(capsys, "check", "--data", again)[0] == 0
    assert not list(tmp_path.glob(".restoring*"))


def test_backup_while_phones_are_sending_is_one_moment(site, sqlite_settings, tmp_path, capsys):
    _, grounds, _, _ = site
    over, sent = threading.Event(), []

    def keep_sending():
        while not over.is_set():
            defect = make_op("defect", grounds.site, set={"elevation_id": grounds.elevation})
            reading = make_op("reading", grounds.site, set={"defect_id": defect["id"]})
            sent.append([one["st"] for one in grounds.keeper.push(defect, reading)])

    sender = threading.Thread(target=keep_sending)
    sender.start()
    try:
        for n in range(5):
            assert run(capsys, "backup", tmp_path / f"{n}.backup", "--data", sqlite_settings.data)[0] == 0
    finally:
        over.set()
        sender.join()
    assert sent
    assert all(one == ["applied", "applied"] for one in sent)
    for n in range(5):
        assert run(capsys, "restore", tmp_path / f"{n}.backup", "--data", tmp_path / f"again{n}")[0] == 0
        assert run(capsys, "check", "--data", tmp_path / f"again{n}")[0] == 0


def test_check_and_backup_tell_of_a_lost_photo_and_the_rest_is_saved(site, sqlite_settings, tmp_path, capsys):
    _, _, _, content = site
    (original,) = sqlite_settings.photo_folder.rglob(sha(content))
    original.unlink()
    for words in (("check",), ("backup", tmp_path / "site.backup"), ("restore", tmp_path / "site.backup")):
        data = tmp_path / "again" if words[0] == "restore" else sqlite_settings.data
        status, said = run(capsys, *words, "--data", data)
        assert (status, "missing" in said) == (1, True), words


@pytest.mark.parametrize("command", ["backup", "check", "export", "take-in"])
def test_folder_without_a_site_is_refused(tmp_path, capsys, command):
    where = () if command == "check" else (tmp_path / "out",)
    status, said = run(capsys, command, *where, "--data", tmp_path / "nothing")
    assert (status, "There is no site in" in said) == (2, True)
    assert not (tmp_path / "nothing").exists()


def test_nothing_of_somebody_elses_is_written_over(site, sqlite_settings, tmp_path, capsys):
    data = sqlite_settings.data
    letter = tmp_path / "letter.txt"
    letter.write_text("Dear keeper, " * 100)
    assert run(capsys, "backup", letter, "--data", data)[0] == 2
    assert run(capsys, "restore", letter, "--data", tmp_path / "new")[0] == 2
    assert run(capsys, "export", tmp_path, "--data", data)[0] == 2
    assert run(capsys, "backup", tmp_path / "site.backup", "--data", data)[0] == 0
    assert run(capsys, "restore", tmp_path / "site.backup", "--data", data)[0] == 2
    assert letter.read_text().startswith("Dear")
    assert not (tmp_path / "new").exists()


def test_export_writes_each_site(site, sqlite_settings, tmp_path, capsys):
    status, said = run(capsys, "export", tmp_path / "out", "--data", sqlite_settings.data)
    assert (status, "1 photos" in said) == (0, True)
    (place,) = (tmp_path / "out").iterdir()
    assert place.name.startswith("Hollow Farm ")
    assert len(list(place.rglob("*.jpg"))) == 1


def test_postgres_site_goes_into_a_backup_and_back_into_another_database(
    postgres_settings, empty_postgres, tmp_path, capsys, monkeypatch
):
    app = create_app(postgres_settings)
    grounds = make_grounds(app)
    defect = grounds.add("defect", note="On PostgreSQL")
    content = picture()
    photo = add_photo(grounds, content)
    assert Sending(grounds.keeper, grounds.site, content).send().status_code == 204
    monkeypatch.setenv("DATABASE_URL", postgres_settings.database_url)
    file = tmp_path / "site.backup"
    assert run(capsys, "check", "--data", postgres_settings.data)[0] == 0
    assert run(capsys, "backup", file, "--data", postgres_settings.data)[0] == 0
    monkeypatch.delenv("DATABASE_URL")
    assert run(capsys, "restore", file, "--data", tmp_path / "on_sqlite")[0] == 0
    assert run(capsys, "check", "--data", tmp_path / "on_sqlite")[0] == 0
    other = empty_postgres.create(f"other_{make_id()}")
    monkeypatch.setenv("DATABASE_URL", other)
    assert run(capsys, "restore", file, "--data", tmp_path / "on_postgres")[0] == 0
    assert run(capsys, "check", "--data", tmp_path / "on_postgres")[0] == 0
    for settings in (
        Settings(data=tmp_path / "on_sqlite"),
        Settings(data=tmp_path / "on_postgres", database_url=other),
    ):
        phone = on(create_app(settings), grounds.keeper)
        phone.since, phone.rows = {}, {}
        assert phone.pull().row("defect", defect)["note"] == "On PostgreSQL"
        assert fetch(phone, grounds, photo, "original").data == content
    again = run(capsys, "restore", file, "--data", tmp_path / "third")
    assert (again[0], "sites in that database already" in again[1]) == (2, True)
    assert not (tmp_path / "third").exists()
