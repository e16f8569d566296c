"""Which rows a row hangs on."""

import pytest

from makegood.domain.lineage import parents


@pytest.mark.parametrize(
    ("row_type", "fields", "expected"),
    [
        ("site", {"name": "x"}, []),
        ("elevation", {"structure_id": "a"}, [("structure", "a")]),
        ("survey", {"storm_id": None}, []),
        ("reading", {"defect_id": "a", "survey_id": "b"}, [("defect", "a"), ("survey", "b")]),
        ("ticket", {"defect_ids": ["a", "b"]}, [("defect", "a"), ("defect", "b")]),
        ("step", {"ticket_id": "a"}, [("ticket", "a")]),
        ("photo", {"of_type": "step", "of_id": "a"}, [("step", "a")]),
        ("note", {"of_type": "storm", "of_id": "a"}, [("storm", "a")]),
        ("clash", {"of_type": "defect", "of_id": "a"}, []),
        ("reading", {"defect_id": 7, "survey_id": ["b"]}, []),
        ("ticket", {"defect_ids": "a"}, []),
    ],
)
def test_parents(row_type, fields, expected):
    assert [(key.type, key.id) for key in parents(row_type, "s", fields)] == expected
