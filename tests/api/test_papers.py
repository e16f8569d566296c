"""Papers over HTTP: short ones at once, long ones as jobs; nothing beyond what the device may see."""

import time
from io import BytesIO
from zipfile import ZipFile

import pytest

from makegood.papers.press import PAPERS
from tests.make import make_guest, make_limited, make_op
from tests.papers.site import text_of


@pytest.fixture
def handed(app, grounds):
    """A site with a ticket and its hand-out."""
    defect = grounds.add("defect", kind="spalling", note="=1+1")
    ticket = grounds.add("ticket", defect_ids=[defect], method="patch_one_coat")
    handout = make_op("handout", grounds.site, set={"ticket_ids": [ticket], "language": "es"})
    assert [one["st"] for one in grounds.keeper.push(handout)] == ["applied"]
    return grounds, ticket, handout["id"]


def get(phone, path):
    """Ask with the phone's session."""
    return phone.client.get(f"/api/papers{path}")


def finished(phone, job):
    """Wait for a job; return its file."""
    for _ in range(1000):
        state = get(phone, f"/jobs/{job}")
        assert state.status_code == 200, state.json
        assert set(state.json) == {"done", "of", "ready"}
        if state.json["ready"]:
            return get(phone, f"/jobs/{job}/file")
        time.sleep(0.01)
    raise AssertionError("the paper was never ready")


def test_kinds_are_listed(grounds):
    answer = get(grounds.keeper, "")
    assert {one["name"] for one in answer.json["papers"]} == set(PAPERS)


@pytest.mark.parametrize("name", [name for name, paper in PAPERS.items() if not paper.long and paper.about is None])
def test_short_papers_come_at_once(handed, name):
    grounds, _, _ = handed
    answer = get(grounds.keeper, f"/{grounds.site}/{name}")
    assert answer.status_code == 200, answer.json
    assert answer.mimetype == PAPERS[name].media_type
    assert answer.headers["Cache-Control"] == "no-store"
    assert answer.headers["Content-Disposition"].startswith(f"attachment; filename=makegood-{name}-")


def test_handout_and_closure_are_about_a_row(handed):
    grounds, ticket, handout = handed
    sheet = get(grounds.keeper, f"/{grounds.site}/handout?id={handout}")
    assert "Parte 1" in text_of(sheet.data)
    assert f"http://localhost/ticket/{ticket}" in text_of(sheet.data)
    assert "Closure of ticket 1" in text_of(get(grounds.keeper, f"/{grounds.site}/closure?id={ticket}").data)
    for wrong in ("", "?id=no-such", f"?id={ticket}"):
        assert get(grounds.keeper, f"/{grounds.site}/handout{wrong}").status_code == 404


def test_long_paper_is_a_job(app, handed):
    grounds, _, _ = handed
    refused = get(grounds.keeper, f"/{grounds.site}/report")
    assert (refused.status_code, refused.json["code"]) == (409, "paper_takes_long")
    begun = grounds.keeper.post(f"/api/papers/{grounds.site}/report", {"language": "es", "measures": "us"})
    assert begun.status_code == 202
    job = begun.json["job"]
    assert "Informe del recorrido" in text_of(finished(grounds.keeper, job).data)
    stranger = make_guest(app, grounds.keeper, grounds.site, "reader", "Rae")
    assert get(stranger, f"/jobs/{job}").status_code == 404
    assert get(stranger, f"/jobs/{job}/file").status_code == 404
    gone = grounds.keeper.client.delete(f"/api/papers/jobs/{job}", headers={"X-CSRF": grounds.keeper.csrf})
    assert gone.status_code == 204
    assert get(grounds.keeper, f"/jobs/{job}").status_code == 404


def test_revoked_device_gets_its_paper_no_more(app, handed):
    grounds, _, _ = handed
    reader = make_guest(app, grounds.keeper, grounds.site, "reader", "Rae")
    job = reader.post(f"/api/papers/{grounds.site}/report", {}).json["job"]
    assert finished(reader, job).status_code == 200
    path = f"/api/devices/{grounds.site}/{reader.device_id}"
    assert grounds.keeper.client.delete(path, headers={"X-CSRF": grounds.keeper.csrf}).status_code == 204
    assert get(reader, f"/jobs/{job}/file").status_code in (401, 404)


def test_originals_come_as_a_zip(handed):
    grounds, _, _ = handed
    job = grounds.keeper.post(f"/api/papers/{grounds.site}/originals", {}).json["job"]
    with ZipFile(BytesIO(finished(grounds.keeper, job).data)) as archive:
        assert archive.namelist() == ["manifest.json"]


def test_limited_device_has_its_sheet_only(app, handed):
    grounds, _, handout = handed
    limited = make_limited(app, grounds.keeper, grounds.site, handout)
    assert get(limited, f"/{grounds.site}/handout?id={handout}").status_code == 200
    assert get(limited, f"/{grounds.site}/defects-table").status_code == 403
    assert limited.post(f"/api/papers/{grounds.site}/report", {}).status_code == 403


def test_strangers_other_sites_and_wrong_words_are_refused(app, handed):
    grounds, _, _ = handed
    assert app.test_client().get(f"/api/papers/{grounds.site}/shopping").status_code == 401
    assert get(grounds.keeper, f"/{grounds.structure}/shopping").json["code"] == "site_unknown"
    assert get(grounds.keeper, f"/{grounds.site}/poster").json["code"] == "paper_unknown"
    assert get(grounds.keeper, f"/{grounds.site}/shopping?language=xx").status_code == 422
