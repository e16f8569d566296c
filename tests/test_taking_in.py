"""A file that a phone saved, taken in from the command line: whose work it is, and what stays in the file."""

import json
import zipfile

from tests.api.test_photos import fetch, picture, sha
from tests.make import Phone, make_grounds, make_guest, make_id, make_op
from tests.test_keeping import run, site

__all__ = ["site"]


def bundle(folder, phone, ops, photos, site):
    """Save what a phone has not sent, as the phone does it."""
    told = {"v": 1, "device": phone.device_id, "person": "Oona", "ops": ops}
    told["photos"] = [{"site": site, "sha256": sha(one), "length": len(one)} for one in photos]
    file = folder / "walk.zip"
    with zipfile.ZipFile(file, "w") as archive:
        archive.writestr("ops.json", json.dumps(told))
        for one in photos:
            archive.writestr(f"blobs/{sha(one)}", one)
    return file


def test_bundle_is_taken_in_as_its_phones_work_and_twice_changes_nothing(
    site, sqlite_settings, tmp_path, capsys
):
    app, grounds, _, _ = site
    surveyor = make_guest(app, grounds.keeper, grounds.site, "surveyor", "Oona")
    content = picture()
    defect = make_op("defect", grounds.site, set={"elevation_id": grounds.elevation, "note": "By file"})
    photo = make_op(
        "photo",
        grounds.site,
        set={"of_type": "defect", "of_id": defect["id"], "sha256": sha(content), "bytes": len(content)},
    )
    file = bundle(tmp_path, surveyor, [defect, photo], [content], grounds.site)
    status, said = run(capsys, "take-in", file, "--data", sqlite_settings.data)
    assert (status, "2 changes (0 refused), 1 photos" in said) == (0, True), said
    first = grounds.keeper.pull().row("defect", defect["id"])
    assert (first["made_by"], first["note"]) == ("Oona", "By file")
    assert fetch(grounds.keeper, grounds, photo["id"], "original").data == content
    assert grounds.keeper.row("photo", photo["id"])["stored"] is True
    assert run(capsys, "take-in", file, "--data", sqlite_settings.data)[0] == 0
    assert [one["st"] for one in surveyor.push(defect, photo)] == ["applied", "applied"]
    assert grounds.keeper.pull().row("defect", defect["id"]) == first


def test_bundle_with_a_bad_change_and_a_damaged_photo_is_taken_in_as_far_as_it_goes(
    site, sqlite_settings, tmp_path, capsys
):
    app, grounds, _, _ = site
    surveyor = make_guest(app, grounds.keeper, grounds.site, "surveyor", "Oona")
    good, bad = make_op("storm", grounds.site), make_op("storm", grounds.site, set={"began_on": "soon"})
    file = bundle(tmp_path, surveyor, [bad, good], [], grounds.site)
    with zipfile.ZipFile(file, "w") as archive:
        photos = [{"site": grounds.site, "sha256": one, "length": 3} for one in ("ab" * 32, "../../x")]
        told = {"v": 1, "device": surveyor.device_id, "person": "Oona", "ops": [bad, good], "photos": photos}
        archive.writestr("ops.json", json.dumps(told))
        archive.writestr(f"blobs/{'ab' * 32}", b"abc")
        archive.writestr("blobs/../../x", b"abc")
    status, said = run(capsys, "take-in", file, "--data", sqlite_settings.data)
    assert status == 1
    assert all(words in said for words in ("bad_value", "damaged on its way", "not a name"))
    assert ("storm", good["id"]) in grounds.keeper.pull().rows


def test_bundle_of_a_stranger_is_refused_with_a_sentence(site, sqlite_settings, tmp_path, capsys):
    _, grounds, _, _ = site
    file = bundle(
        tmp_path,
        Phone(grounds.keeper.client, device_id=make_id()),
        [make_op("storm", grounds.site)],
        [],
        grounds.site,
    )
    status, said = run(capsys, "take-in", file, "--data", sqlite_settings.data)
    assert (status, "never enrolled here" in said) == (2, True)


def take_out(grounds, phone):
    """Take a phone out of the site, as its keeper does."""
    path = f"/api/devices/{grounds.site}/{phone.device_id}"
    assert grounds.keeper.client.delete(path, headers={"X-CSRF": grounds.keeper.csrf}).status_code == 204


def test_bundle_of_a_phone_taken_out_stays_whole_until_a_keeper_vouches_for_it(site, sqlite_settings, tmp_path, capsys):
    app, grounds, _, _ = site
    surveyor = make_guest(app, grounds.keeper, grounds.site, "surveyor", "Oona")
    content = picture()
    defect = make_op("defect", grounds.site, set={"elevation_id": grounds.elevation, "note": "By file"})
    about = {"of_type": "defect", "of_id": defect["id"], "sha256": sha(content), "bytes": len(content)}
    photo = make_op("photo", grounds.site, set=about)
    file = bundle(tmp_path, surveyor, [defect, photo], [content], grounds.site)
    take_out(grounds, surveyor)
    take_in = ("take-in", file, "--data", sqlite_settings.data)
    status, said = run(capsys, *take_in)
    keeper = "Keeper Kit"
    assert status == 2
    assert f"Changes: 2, photos: 1, of the site {grounds.site}: stay in the file." in said
    assert "Oona's phone has no part in that site any more." in said
    assert f"--as-own and the name ({keeper})" in said
    status, said = run(capsys, *take_in, "--as-own", "Nobody Here")
    assert (status, f"Nobody Here does not keep that site. It is kept by {keeper}" in said) == (2, True)
    assert ("defect", defect["id"]) not in grounds.keeper.pull().rows
    # A name is taken as people write it: case and spaces aside.
    status, said = run(capsys, *take_in, "--as-own", f" {keeper.upper()} ")
    assert (status, f"from Oona as {keeper}'s own work: 2 changes (0 refused), 1 photos" in said) == (0, True), said
    first = grounds.keeper.pull().row("defect", defect["id"])
    assert (first["note"], first["made_by"]) == ("By file", keeper)
    assert fetch(grounds.keeper, grounds, photo["id"], "original").data == content
    for again in ((), ("--as-own", keeper)):
        run(capsys, *take_in, *again)
        assert grounds.keeper.pull().row("defect", defect["id"]) == first
    assert grounds.keeper.all("clash") == []
    assert run(capsys, "check", "--data", sqlite_settings.data)[0] == 0


def test_one_sites_share_is_taken_in_while_anothers_stays_in_the_file(site, sqlite_settings, tmp_path, capsys):
    app, grounds, _, _ = site
    other = make_grounds(app)
    surveyor = make_guest(app, grounds.keeper, grounds.site, "surveyor", "Oona")
    here, there, nowhere = (make_op("storm", place) for place in (grounds.site, other.site, make_id()))
    file = bundle(tmp_path, surveyor, [there, here, nowhere, "no change"], [], grounds.site)
    take_in = ("take-in", file, "--data", sqlite_settings.data)
    status, said = run(capsys, *take_in)
    assert (status, "1 changes (3 refused)" in said) == (1, True), said
    assert "was never sent to this server" in said
    assert "must say which site" in said
    assert grounds.keeper.pull().row("storm", here["id"])["made_by"] == "Oona"
    assert ("storm", there["id"]) not in other.keeper.pull().rows
    assert "2 changes (2 refused)" in run(capsys, *take_in, "--as-own", "Keeper Kit")[1]
    assert other.keeper.pull().row("storm", there["id"])["made_by"] == "Keeper Kit"
    assert grounds.keeper.pull().row("storm", here["id"])["made_by"] == "Oona"
