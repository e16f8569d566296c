"""The phone's two photo sums have no twin here, so OpenCV and numpy judge the cases the phone is held to.

Sources: cv2.getPerspectiveTransform, cv2.projectPoints, cv2.cvtColor and cv2.threshold of OpenCV; school geometry for true sizes.
"""

import json
import zlib
from base64 import b64decode

import cv2
import numpy as np
import pytest

from makegood.errors import BadInput
from makegood.paths import shared_dir
from makegood.science.outline import reckon_area
from makegood.science.rectify import apply_homography, homography
from tests.reference.photo import patches, scenes


def _file(name):
    return json.loads((shared_dir() / "vectors" / name).read_text(encoding="utf-8"))


MEASURING, COLOURS = _file("measuring.json"), _file("colour_region.json")
FLAT = [c for c in MEASURING["cases"] if "out" in c and c["in"]["surface"]["kind"] == "flat"]


def _near(got, expected):
    if isinstance(expected, dict):
        assert got.keys() == expected.keys()
        for name in expected:
            _near(got[name], expected[name])
    elif isinstance(expected, list):
        assert len(got) == len(expected)
        for one, other in zip(got, expected, strict=True):
            _near(one, other)
    elif isinstance(expected, float):
        assert got == pytest.approx(expected, rel=1e-7, abs=1e-7)
    else:
        assert got == expected


def test_cases_are_what_the_camera_sees():
    _near(json.loads(json.dumps(scenes.make())), MEASURING)


@pytest.mark.parametrize("case", [pytest.param(c, id=c["name"]) for c in FLAT])
def test_opencv_finds_the_same_area(case):
    asked = case["in"]
    photo, plane = np.float32(asked["photo"]), np.float32(asked["plane_m"])
    theirs = cv2.getPerspectiveTransform(photo, plane)
    outline = np.array([asked["outline"]])
    on_plane = cv2.perspectiveTransform(outline, theirs)[0]
    # OpenCV takes its four pairs as 32-bit floats, and an outline far from a small card makes much of that.
    assert scenes.shoelace(on_plane) == pytest.approx(case["out"]["area_m2"], rel=2e-3)
    ours = homography(asked["photo"], asked["plane_m"])
    assert np.allclose([apply_homography(ours, p) for p in asked["outline"]], on_plane, atol=1e-3)


@pytest.mark.parametrize("case", [pytest.param(c, id=c["name"]) for c in FLAT])
def test_the_outline_on_the_view_has_the_true_area(case):
    found = reckon_area(case["in"]["surface"], "seen", case["points_m"])
    assert found.area_m2 == pytest.approx(case["out"]["area_m2"], rel=1e-4)


def test_the_refused_horizon_is_one_here_too():
    asked = next(c for c in MEASURING["cases"] if c.get("error") == "beyond_horizon")["in"]
    matrix = homography(asked["photo"], asked["plane_m"])
    with pytest.raises(BadInput):
        [apply_homography(matrix, p) for p in asked["outline"]]


def test_colours_are_as_opencv_reckons_them():
    ours = [one["lab"] for one in COLOURS["lab"]]
    theirs = patches.lab_by_opencv([tuple(one["rgb"]) for one in COLOURS["lab"]])
    assert np.allclose(ours, theirs, atol=0.01)


def _unpacked(text, *shape):
    return np.frombuffer(zlib.decompress(b64decode(text)), np.uint8).reshape(shape)


@pytest.mark.parametrize("case", [pytest.param(c, id=c["name"]) for c in COLOURS["cases"]])
def test_pictures_are_as_drawn_and_opencv_finds_the_patch(case):
    picture = _unpacked(case["rgb"], patches.HEIGHT, patches.WIDTH, 3)
    truth = _unpacked(case["truth"], patches.HEIGHT, patches.WIDTH)
    drawn, mask = patches.SCENES[case["name"]][0]()
    assert patches.overlap(truth, mask) > 0.99
    assert np.abs(picture.astype(int) - drawn).mean() < 1
    assert patches.overlap(patches.region_by_opencv(picture, case["tap"]), truth) >= COLOURS["least_overlap"]
