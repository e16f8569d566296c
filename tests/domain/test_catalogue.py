"""The catalogue hangs together, both languages speak, and its numbers are those of practice."""

import copy
from collections.abc import Iterator
from typing import Any

import pytest

from makegood.domain import catalogue as made
from makegood.domain.catalogue import build_catalogue, bulk_density
from makegood.domain.vocabulary import choices, shared
from makegood.science.materials.coat import stack_warnings

CATALOGUE = build_catalogue()
MIXES, METHODS, MATERIALS, HAZARDS = (CATALOGUE[key] for key in ("mixes", "methods", "materials", "hazards"))
SOURCES = shared("materials")["materials"]
BASES = {"read", "from memory", "common practice", "assumed"}
EARTHEN = [wall["id"] for wall in shared("vocabulary")["wall_materials"] if wall["earthen"]]


def ranges(value: Any, path: str = "") -> Iterator[tuple[str, dict[str, float]]]:
    if isinstance(value, dict):
        if {"low", "likely", "high"} <= set(value):
            yield path, value
        for key, one in value.items():
            yield from ranges(one, f"{path}.{key}")
    if isinstance(value, list):
        for one in value:
            yield from ranges(one, path)


def like_lime_coat(**parts: float) -> dict[str, Any]:
    named = [{"material": key, "parts": value} for key, value in parts.items()]
    return {**shared("mixes")["mixes"]["lime_coat"], "parts": named}


def has_lime(mix: dict[str, Any]) -> bool:
    return any("lime" in material or "nhl" in material for material in mix["per_l"])


def test_parts_of_the_contract_are_there() -> None:
    assert set(CATALOGUE) == {
        "hash", "vocabulary", "drawings", "urgency", "states", "roles", "hazards", "materials", "mixes",
        "methods", "suggest", "work_rates", "lasting", "look_first", "sources",
    }  # fmt: skip


def test_every_range_is_in_order() -> None:
    found = list(ranges(CATALOGUE))
    assert len(found) > 300
    assert [path for path, one in found if not 0 <= one["low"] <= one["likely"] <= one["high"]] == []


def test_hash_is_the_content_s(monkeypatch: pytest.MonkeyPatch) -> None:
    build = build_catalogue.__wrapped__
    assert build()["hash"] == CATALOGUE["hash"]
    changed = copy.deepcopy(shared("hazards"))
    changed["defer"]["en"] += " Truly."
    monkeypatch.setattr(made, "shared", lambda name: changed if name == "hazards" else shared(name))
    assert build()["hash"] != CATALOGUE["hash"]


def test_every_number_in_materials_says_its_basis_and_source() -> None:
    bare = [path for path, one in ranges(SOURCES) if one.get("basis") not in BASES or not one.get("source")]
    assert bare == []


@pytest.mark.parametrize("table", ["materials", "mixes", "methods"])
def test_every_line_says_its_basis_and_source(table: str) -> None:
    assert [
        key for key, one in CATALOGUE[table].items() if one["basis"] not in BASES or not one["source"]
    ] == []


@pytest.mark.parametrize("method", METHODS)
def test_a_method_speaks_both_languages_step_by_step(method: str) -> None:
    en, es = METHODS[method]["words"]["en"], METHODS[method]["words"]["es"]
    assert set(en) == set(es) == {"name", "short", "steps", "tools", "cautions"}
    for key in ("steps", "tools", "cautions"):
        assert len(en[key]) == len(es[key])
    assert en["steps"]
    assert en["tools"]
    assert en["name"] != es["name"]


def test_everything_named_exists() -> None:
    for mix in MIXES.values():
        assert set(mix["per_l"]) <= set(MATERIALS)
        assert set(mix["hazards"]) <= set(HAZARDS["hazards"])
        assert set(mix["not_over"]) <= choices("wall_materials")
    for method in METHODS.values():
        named = [coat["mix"] for coat in (*method["coats"], *(method["earth_coats"] or []))]
        named += [
            method[key]
            for key in ("dub_out_mix", "earth_dub_out_mix", "fill_mix", "earth_fill_mix")
            if method[key]
        ]
        assert set(named) <= set(MIXES)
        assert {extra["material"] for extra in method["extra"]} <= set(MATERIALS)
        assert set(method["hazards"]) <= set(HAZARDS["hazards"])
    for material in MATERIALS.values():
        assert set(material["hazards"]) <= set(HAZARDS["hazards"])
    assert set(shared("mixes")["wall_strength_mpa"]) == choices("wall_materials")


def test_every_material_that_burns_says_so() -> None:
    for key in ("nhl_2", "nhl_3_5", "nhl_5", "hydrated_lime", "lime_putty", "quicklime"):
        assert "lime_burns" in MATERIALS[key]["hazards"]
    assert "quicklime" in MATERIALS["quicklime"]["hazards"]
    for key, mix in MIXES.items():
        assert ("lime_burns" in mix["hazards"]) is has_lime(mix), key


@pytest.mark.parametrize("method", METHODS)
def test_a_method_s_own_coats_keep_the_rules(method: str) -> None:
    one = METHODS[method]
    assert stack_warnings(one["coats"], MIXES, one["dub_out_mix"]) == set()
    assert stack_warnings(one["earth_coats"] or [], MIXES, one["earth_dub_out_mix"]) == set()


def test_methods_lay_nothing_stronger_than_earth_over_earth() -> None:
    for key, one in METHODS.items():
        for coat in (*one["coats"], *(one["earth_coats"] or [])):
            assert not set(MIXES[coat["mix"]]["not_over"]) & set(EARTHEN), key
    assert set(EARTHEN) - {"stone_in_earth"} <= set(MIXES["lime_coat_strong"]["not_over"])


def test_earth_coats_are_earth() -> None:
    for key, one in METHODS.items():
        laid = [MIXES[coat["mix"]] for coat in one["earth_coats"] or []]
        assert {mix["kind"] for mix in laid} <= {"earth", "wash", "grout"}, key
        assert not any(has_lime(mix) for mix in laid), key


def test_only_engineer_first_is_engineer_first_and_it_lays_nothing() -> None:
    assert [key for key, one in METHODS.items() if one["engineer_first"]] == ["engineer_first"]
    assert METHODS["engineer_first"]["per"] == "none"
    assert "unstable_wall" in METHODS["engineer_first"]["hazards"]


@pytest.mark.parametrize("mix", [key for key, one in MIXES.items() if one["kind"] in ("plaster", "earth")])
def test_a_fresh_plaster_weighs_what_plaster_weighs(mix: str) -> None:
    """1700 to 2100 kg/m3 read for lime plasters; the cost base's own mortars come to 2180 without air, so
    2200 here.
    """
    assert 1.7 <= MIXES[mix]["yield"]["fresh_kg_l"]["likely"] <= 2.2


def test_dry_cob_weighs_what_cob_weighs() -> None:
    """1500 to 1900 kg/m3, from memory."""
    dry = MIXES["cob"]["yield"]["fresh_kg_l"]["likely"] - MIXES["cob"]["yield"]["water_l"]["likely"]
    assert 1.5 <= dry <= 1.9


@pytest.mark.parametrize(
    "mix",
    [
        "lime_base_coat",
        "lime_coat",
        "lime_finish",
        "lime_coat_strong",
        "hydrated_lime_coat",
        "bedding_mortar",
    ],
)
def test_water_of_lime_mixes_is_that_of_the_cost_base(mix: str) -> None:
    """0.270 to 0.320 m3 per m3, BCCA 2024-01: read."""
    assert 0.26 <= MIXES[mix]["yield"]["water_l"]["likely"] <= 0.33


@pytest.mark.parametrize("mix", ["lime_finish", "hydrated_lime_coat", "putty_coat"])
def test_mortar_at_one_to_three_is_about_its_sand(mix: str) -> None:
    """Common practice: within 10 %."""
    sand_l = sum(
        per["l"]["likely"] for key, per in MIXES[mix]["per_l"].items() if SOURCES[key]["role"] == "aggregate"
    )
    assert sand_l == pytest.approx(1, rel=0.10)


def test_a_tablespoon_of_oil_does_two_to_three_gallons() -> None:
    """Common practice, no source: 1 tablespoon is 1/256 US gallon."""
    oil = MIXES["lime_oiled_finish"]["per_l"]["linseed_oil"]["l"]
    assert oil["low"] == pytest.approx(1 / 256 / 3, rel=1e-3)
    assert oil["likely"] == pytest.approx(1 / 256 / 2.5, rel=1e-3)
    assert oil["high"] == pytest.approx(1 / 256 / 2, rel=1e-3)


def test_hydraulic_lime_per_cubic_metre_is_that_of_a_producer_within_its_ten_per_cent_and_ours() -> None:
    """244 kg at 1 : 2.5, 10 % either way, a producer's sheet (name withheld): a sanity range only."""
    kg = MIXES["lime_coat_strong"]["per_l"]["nhl_3_5"]["kg"]
    assert kg["low"] * 1000 <= 244 * 1.1
    assert kg["high"] * 1000 >= 244 * 0.9


def test_only_cement_mixes_warn_of_cement_and_there_are_none() -> None:
    assert not any("cement" in mix["per_l"] for mix in MIXES.values())
    cement = made.mix_for_phones(like_lime_coat(cement=1, sharp_sand=5))
    assert "cement_over_earth" in cement["warnings"]
    assert set(EARTHEN) <= set(cement["not_over"])


def test_a_lean_recipe_is_said_to_be_lean() -> None:
    lean = made.mix_for_phones(like_lime_coat(nhl_2=1, sharp_sand=6))
    assert lean["warnings"] == ["lean"]


def test_a_counted_piece_cannot_be_a_part() -> None:
    with pytest.raises(ValueError, match="counted"):
        made.ingredient("stone", 1)


def test_density_of_sand_follows_from_its_voids() -> None:
    assert bulk_density(SOURCES["sharp_sand"]) == {
        "low": pytest.approx(2.65 * 0.55),
        "likely": pytest.approx(1.59),
        "high": pytest.approx(2.65 * 0.65),
    }
    assert bulk_density(SOURCES["stone"]) is None


@pytest.mark.parametrize("hazard", HAZARDS["hazards"])
def test_a_hazard_speaks_both_languages(hazard: str) -> None:
    words = HAZARDS["hazards"][hazard]["words"]
    assert set(words["en"]) == set(words["es"]) == {"name", "short", "care"}
    assert len(words["en"]["care"]) == len(words["es"]["care"]) > 0


def test_the_cards_say_the_numbers_that_were_read() -> None:
    lime = " ".join(HAZARDS["hazards"]["lime_burns"]["words"]["en"]["care"])
    assert "15 minutes" in lime
    assert "5 mg/m3" in lime
    assert "0.9 m (3 ft)" in " ".join(HAZARDS["hazards"]["ladders"]["words"]["en"]["care"])
    assert "licensed" in HAZARDS["defer"]["en"]
