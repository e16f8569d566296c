"""A station's table over HTTP: its own body limit, its own type, and only for roles that may log storms."""

from datetime import datetime, timedelta

import pytest

from makegood.api.weather import MAX_TABLE_BYTES
from tests.make import make_guest, make_id

TABLE = b"time,wind_m_s,wind_from_deg,rain_mm\n2026-10-09 00:00,9,225,4\n2026-10-09 01:00,9,225,5\n"


def send(phone, site, content=TABLE, query="", mimetype="text/csv", csrf=None):
    headers = {"X-CSRF": phone.csrf if csrf is None else csrf}
    return phone.client.post(f"/api/weather/{site}{query}", data=content, content_type=mimetype, headers=headers)


def test_spells_come_back_and_nothing_is_kept(grounds):
    before = set(grounds.keeper.pull().rows)
    answer = send(grounds.keeper, grounds.site, query="?zone=Europe/Madrid")
    assert answer.status_code == 200
    assert [one["rain_mm"] for one in answer.json["spells"]] == [9]
    assert answer.json["columns"]["rain"] == "rain_mm"
    assert set(grounds.keeper.pull().rows) == before


@pytest.mark.parametrize(("role", "status"), [("surveyor", 200), ("helper", 403), ("reader", 403)])
def test_only_roles_that_may_log_storms(app, grounds, role, status):
    guest = make_guest(app, grounds.keeper, grounds.site, role, "Guest")
    assert send(guest, grounds.site).status_code == status


def test_other_sites_are_as_if_they_were_not(grounds):
    answer = send(grounds.keeper, make_id())
    assert (answer.status_code, answer.json["code"]) == (404, "site_unknown")


def test_token_of_the_page_is_needed(grounds):
    assert send(grounds.keeper, grounds.site, csrf="wrong").json["code"] == "csrf_wrong"


def test_other_types_are_refused(grounds):
    assert send(grounds.keeper, grounds.site, mimetype="text/plain").status_code == 415
    assert send(grounds.keeper, grounds.site, content=b"{}", mimetype="application/json").json["code"] == "csv_expected"


def test_larger_than_json_may_be_and_no_larger_than_16_mib(grounds):
    begun = datetime(2020, 1, 1)
    rows = [f"{begun + timedelta(hours=n)},9,225,{n % 7}" for n in range(10_000)]
    long = "\n".join(["time,wind_m_s,wind_from_deg,rain_mm", *rows]).encode()
    assert len(long) > 256 * 1024
    assert send(grounds.keeper, grounds.site, content=long).json["hours"] == 10_000
    over = send(grounds.keeper, grounds.site, content=b"x" * (MAX_TABLE_BYTES + 1))
    assert (over.status_code, over.json["code"]) == (413, "table_too_large")


def test_wishes_that_cannot_be_are_refused(grounds):
    for query in ("?wind_unit=furlong", "?apart_h=0", "?zone="):
        assert send(grounds.keeper, grounds.site, query=query).status_code == 422
    assert send(grounds.keeper, grounds.site, query="?zone=Mars/Crater").json["code"] == "zone_unknown"
