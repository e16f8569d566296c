"""The words, drawings and rules hang together: both languages, every id known, every kind drawn."""

import json
import re
from typing import Any

import pytest

from makegood.paths import shared_dir

Json = dict[str, Any]


def read(name: str) -> Json:
    loaded: Json = json.loads((shared_dir() / name).read_text("utf-8"))
    return loaded


VOCABULARY, DRAWINGS, URGENCY = read("vocabulary.json"), read("drawings.json"), read("urgency.json")
KINDS: list[Json] = VOCABULARY["kinds"]
IDS = [kind["id"] for kind in KINDS]
EXPECTED = {
    "hairline_crack", "crazing", "structural_crack", "hollow", "bulge", "delamination", "flaking", "spalling",
    "missing_render", "exposed_substrate", "erosion", "washout", "undercut", "efflorescence", "salt_scabs",
    "damp_patch", "staining", "growth", "bag_decay", "holes", "lean", "loose_stone",
}  # fmt: skip
KIND_WORDS = {"name", "see", "see_more", "cause", "urgent", "repair", "measure"}
PLAIN_LISTS = [
    "causes", "signs", "wall_materials", "opening_kinds", "reading_states", "ticket_states",
    "position_sources", "roles", "size_steps", "depth_steps",
]  # fmt: skip
WORDED_LISTS = {"families": {"name", "hint"}, "urgencies": {"name", "means"}, "steps": {"do", "did"}}


def ids_of(name: str) -> list[str]:
    return [entry["id"] for entry in VOCABULARY[name]]


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours by WCAG 2.2, relative luminance."""

    def luminance(colour: str) -> float:
        parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
        red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue

    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def test_kinds_are_the_twenty_two() -> None:
    assert len(IDS) == 22
    assert set(IDS) == EXPECTED


def test_names_people_ask_for_are_there() -> None:
    names = {kind["words"]["en"]["name"] for kind in KINDS}
    assert {"Spalling", "Crazing", "Washout", "Delamination"} <= names
    for lang in ("en", "es"):
        assert len({kind["words"][lang]["name"] for kind in KINDS}) == 22


@pytest.mark.parametrize("kind", KINDS, ids=IDS)
@pytest.mark.parametrize("lang", ["en", "es"])
def test_kind_is_found_by_plain_words_that_its_name_has_not(kind: Json, lang: str) -> None:
    plain = kind["also"][lang]
    assert len(plain) >= 2
    assert len(set(plain)) == len(plain)
    name = kind["words"][lang]["name"].lower()
    assert all(word == word.strip().lower() and word != name for word in plain)


@pytest.mark.parametrize("kind", KINDS, ids=IDS)
@pytest.mark.parametrize("lang", ["en", "es"])
def test_kind_has_every_word(kind: Json, lang: str) -> None:
    words = kind["words"][lang]
    assert set(words) == KIND_WORDS
    assert all(text.strip() == text and len(text) > 3 for text in words.values())
    assert len(words["see"]) <= 40


@pytest.mark.parametrize("kind", KINDS, ids=IDS)
def test_kind_refers_only_to_known_ids(kind: Json) -> None:
    assert kind["family"] in ids_of("families")
    assert kind["mark"] in {"pin", "line", "outline"}
    assert kind["causes"]
    assert set(kind["causes"]) <= set(ids_of("causes"))
    assert set(kind["signs"]) <= set(ids_of("signs"))
    assert set(kind["measures"]) <= {"area", "depth", "crack_width", "length", "count"}
    for name in ("causes", "signs", "measures"):
        assert len(kind[name]) == len(set(kind[name]))


@pytest.mark.parametrize("kind", KINDS, ids=IDS)
def test_glossary_term_says_how_it_is_known(kind: Json) -> None:
    for entry in kind["glossary"]:
        assert entry["source"]
        assert entry["term"]
        assert entry["basis"] in {"read", "from memory"}


def test_every_cause_fits_some_kind() -> None:
    assert set(ids_of("causes")) == {cause for kind in KINDS for cause in kind["causes"]}


@pytest.mark.parametrize("name", PLAIN_LISTS)
def test_list_has_a_word_in_both_languages(name: str) -> None:
    assert len(ids_of(name)) == len(set(ids_of(name))) > 0
    for entry in VOCABULARY[name]:
        assert set(entry["words"]) == {"en", "es"}
        assert all(entry["words"].values())


@pytest.mark.parametrize("name", WORDED_LISTS)
def test_list_has_all_words_in_both_languages(name: str) -> None:
    assert len(ids_of(name)) == len(set(ids_of(name))) > 0
    for entry in VOCABULARY[name]:
        assert set(entry["words"]) == {"en", "es"}
        for words in entry["words"].values():
            assert set(words) == WORDED_LISTS[name]
            assert all(words.values())


def test_lists_match_the_other_shared_files() -> None:
    states = read("ticket_states.json")
    assert ids_of("ticket_states") == states["states"]
    assert ids_of("steps") == list(states["steps"])
    assert set(ids_of("roles")) == set(read("roles.json")["roles"])
    assert ids_of("urgencies") == URGENCY["order"]
    photo = read("records.json")["types"]["photo"]["fields"]
    assert ids_of("position_sources") == photo["position_source"]["of"]


def test_words_stand_in_the_vocabulary_for_every_choice_of_a_row() -> None:
    fields = [field for row in read("records.json")["types"].values() for field in row["fields"].values()]
    choices = [field["of"] for field in fields if field["kind"] == "choice"]
    named = {choice for choice in choices if isinstance(choice, str)}
    assert "kinds" in named
    # The methods have a file of their own, with their coats and materials.
    assert named - {"methods"} <= set(VOCABULARY)


def test_quick_sizes_rise() -> None:
    for name, field in (("size_steps", "area_m2"), ("depth_steps", "depth_mm")):
        sizes = [step[field] for step in VOCABULARY[name]]
        assert sizes == sorted(set(sizes))
        assert sizes[0] > 0


def test_every_kind_is_drawn_in_its_own_way() -> None:
    assert list(DRAWINGS["kinds"]) == IDS
    drawn = {kind: "".join(path["d"] for path in paths) for kind, paths in DRAWINGS["kinds"].items()}
    assert len(set(drawn.values())) == 22


@pytest.mark.parametrize("kind", KINDS, ids=IDS)
def test_drawing_uses_known_fills_and_shows_its_family(kind: Json) -> None:
    paths = DRAWINGS["kinds"][kind["id"]]
    for path in paths:
        assert set(path) == {"d", "fill", "stroke", "width"}
        assert re.fullmatch(r"M[-\d.MmLlHhVvQqTtAaZz ]+", path["d"])
        assert path["fill"] in {"none", "hatch", *DRAWINGS["fills"]}
        assert path["stroke"] in {"none", "ink", "family"}
        assert (path["stroke"] == "none") or path["width"] > 0
        assert path["fill"] != "none" or path["stroke"] != "none"
    if kind["family"] != "crack_deformation":
        assert any(path["fill"] == "hatch" or path["stroke"] == "family" for path in paths)


def test_hatch_differs_by_family_so_that_nothing_hangs_on_colour() -> None:
    hatches = {family["id"]: family["hatch"] for family in VOCABULARY["families"]}
    assert sorted(hatches.values()) == ["dash", "diagonal", "dots", "line", "waves"]
    assert {name: family["hatch"]["kind"] for name, family in DRAWINGS["families"].items()} == hatches


@pytest.mark.parametrize("family", DRAWINGS["families"])
def test_family_colour_can_be_read_in_glare(family: str) -> None:
    colour = DRAWINGS["families"][family]["colour"]
    assert contrast(colour, DRAWINGS["limewash"]) >= 7
    assert contrast(colour, DRAWINGS["fills"]["light"]) >= 7
    assert contrast(colour, DRAWINGS["fills"]["coat"]) >= 4.5
    assert contrast(colour, DRAWINGS["fills"]["wall"]) >= 4.5


def test_every_kind_of_mix_has_a_hatch_of_its_own() -> None:
    kinds = {mix["kind"] for mix in read("mixes.json")["mixes"].values()}
    drawn = DRAWINGS["mix_kinds"]
    assert set(drawn) == kinds
    assert len({one["hatch"]["kind"] for one in drawn.values()}) == len(kinds)
    for one in drawn.values():
        assert contrast(one["colour"], one["tint"]) >= 4.5


def test_contrast_of_black_on_white_is_twenty_one() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)


@pytest.mark.parametrize("rule", [*URGENCY["rules"], URGENCY["default"]], ids=lambda rule: rule["id"])
def test_urgency_rule_is_complete_and_knows_its_ids(rule: Json) -> None:
    assert rule["gives"] in URGENCY["order"]
    assert rule["words"]["en"]
    assert rule["words"]["es"]
    assert rule["source"]
    assert rule["basis"] in {"read", "from memory", "practice"}
    if rule is URGENCY["default"]:
        return
    when = rule["when"]
    assert when
    assert set(when.get("kinds", [])) <= EXPECTED
    assert {*when.get("signs", []), *when.get("all_signs", [])} <= set(ids_of("signs"))
    assert set(when.get("wall_materials", [])) <= set(ids_of("wall_materials"))
    known = "kinds wall_materials signs all_signs beyond_cover depth_over_mm area_over_m2 crack_over_mm"
    assert set(when) <= set(known.split())


ENGINEER_FIRST = [rule for rule in URGENCY["rules"] if rule.get("engineer_first")]


@pytest.mark.parametrize("rule", ENGINEER_FIRST, ids=lambda rule: rule["id"])
def test_engineer_first_is_said_in_words_too(rule: Json) -> None:
    assert "engineer" in rule["words"]["en"]
    assert "ingeniero" in rule["words"]["es"]


def test_urgency_rule_ids_are_unique() -> None:
    ids = [rule["id"] for rule in URGENCY["rules"]] + [URGENCY["default"]["id"]]
    assert len(ids) == len(set(ids))
