"""Json fields are checked by what they lie on."""

import pytest

from makegood.domain.shape import check_shapes
from makegood.domain.vocabulary import choices
from makegood.errors import MakegoodError
from tests.make import OUTLINE, PIN, SURFACE


@pytest.mark.parametrize(
    ("row_type", "given", "code"),
    [
        ("elevation", {"surface": {**SURFACE, "width_m": 0}}, "surface_refused"),
        ("elevation", {"surface": "flat"}, "surface_refused"),
        (
            "defect",
            {"mark": {**OUTLINE, "points_m": [[1, 1], [2, 2], [2, 1], [1, 2]]}},
            "outline_crosses_itself",
        ),
        ("defect", {"mark": {**PIN, "points_m": [[60, 1]]}}, "outline_leaves_wall"),
        ("defect", {"mark": {**OUTLINE, "points_m": [[1, 1], [2, 1], [3, 1]]}}, "outline_empty"),
        ("finish", {"coats": [{"mix": "moon_dust", "thickness_mm": 10}]}, "bad_value"),
        ("finish", {"coats": "thick"}, "bad_value"),
        ("elevation", {"openings": [{"kind": "hatch"}]}, "bad_value"),
        ("elevation", {"backdrop": {"photo_id": "x"}}, "bad_value"),
    ],
)
def test_shape_is_refused(row_type, given, code):
    with pytest.raises(MakegoodError) as refused:
        check_shapes(row_type, given, SURFACE)
    assert refused.value.code == code


def test_marks_are_kept_to_the_millimetre_and_other_fields_as_they_are():
    given = {"mark": {**PIN, "points_m": [[1.00049, 1]]}, "note": "x", "kind": None}
    kept = check_shapes("defect", given, SURFACE)
    assert kept == {"mark": {**PIN, "points_m": [[1.0, 1.0]]}, "note": "x", "kind": None}


def test_known_mixes_are_taken():
    coats = [{"mix": min(choices("mixes")), "thickness_mm": 12}]
    assert check_shapes("finish", {"coats": coats, "region": None}, SURFACE) == {
        "coats": coats,
        "region": None,
    }
