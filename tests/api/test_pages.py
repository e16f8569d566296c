"""The built web app as it is served."""

import gzip

import pytest

from makegood.api import pages

HTML = {"Accept": "text/html,application/xhtml+xml"}


@pytest.fixture
def built(tmp_path, monkeypatch):
    folder = tmp_path / "web"
    (folder / "assets").mkdir(parents=True)
    (folder / "index.html").write_text("<!doctype html><title>Walls</title>")
    (folder / "sw.js").write_text("self.a = 1")
    (folder / "assets" / "main-1a2b3c.js").write_text("1")
    monkeypatch.setattr(pages, "web_dir", lambda: folder)
    return folder


def test_start_page_and_places_inside_the_app_are_the_same_page(app, built):
    client = app.test_client()
    for path in ("/", "/tickets", "/defect/123"):
        answer = client.get(path, headers=HTML)
        assert (answer.status_code, answer.mimetype) == (200, "text/html")
        assert answer.headers["Cache-Control"] == "no-cache"
        assert b"Walls" in answer.data


def test_hashed_files_are_kept_for_ever_and_the_service_worker_never(app, built):
    client = app.test_client()
    assert "immutable" in client.get("/assets/main-1a2b3c.js").headers["Cache-Control"]
    worker = client.get("/sw.js")
    assert worker.headers["Cache-Control"] == "no-cache"
    assert worker.mimetype in ("text/javascript", "application/javascript")
    assert client.get("/sw.js", headers={"If-None-Match": worker.headers["ETag"]}).status_code == 304


def test_start_page_by_its_file_name_is_no_redirect(app, built):
    answer = app.test_client().get("/index.html")
    assert (answer.status_code, answer.mimetype) == (200, "text/html")


def test_packed_twin_is_sent_only_to_who_takes_it(app, built):
    (built / "assets" / "main-1a2b3c.js.gz").write_bytes(gzip.compress(b"1"))
    client = app.test_client()
    packed = client.get("/assets/main-1a2b3c.js", headers={"Accept-Encoding": "gzip, br"})
    plain = client.get("/assets/main-1a2b3c.js", headers={"Accept-Encoding": "gzip;q=0"})
    assert packed.headers["Content-Encoding"] == "gzip"
    assert gzip.decompress(packed.data) == plain.data == b"1"
    assert packed.mimetype == plain.mimetype
    assert "Content-Encoding" not in plain.headers
    assert packed.headers["Vary"] == plain.headers["Vary"] == "Accept-Encoding"


@pytest.mark.parametrize("path", ["/assets/old-0.js", "/icon.png"])
def test_missing_file_is_no_page(app, built, path):
    answer = app.test_client().get(path, headers={"Accept": "*/*"})
    assert (answer.status_code, answer.json["code"]) == (404, "not_found")


@pytest.mark.parametrize("path", ["/api", "/api/nothing", "/api/"])
def test_unknown_api_address_is_never_a_page(app, built, path):
    answer = app.test_client().get(path, headers=HTML)
    assert (answer.status_code, answer.json["code"]) == (404, "not_found")


@pytest.mark.parametrize(
    "path", ["/../settings.py", "/assets/../../settings.py", "/%2e%2e/settings.py", "//etc/passwd"]
)
def test_nothing_outside_the_folder_is_served(app, built, path):
    (built.parent / "settings.py").write_text("secret")
    answer = app.test_client().get(path)
    assert answer.status_code in (404, 308)
    assert b"secret" not in answer.data


def test_without_a_build_a_sentence_says_what_to_run(app, tmp_path, monkeypatch):
    monkeypatch.setattr(pages, "web_dir", lambda: tmp_path / "none")
    answer = app.test_client().get("/", headers=HTML)
    assert answer.status_code == 503
    assert "npm run build" in answer.text


def test_search_engines_are_turned_away_without_being_told_of_any_page(app):
    answer = app.test_client().get("/robots.txt")
    assert answer.text == "User-agent: *\nDisallow: /\n"
    assert answer.mimetype == "text/plain"
