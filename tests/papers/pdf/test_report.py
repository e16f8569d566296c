"""The survey report: the right defects and sums, drawings told in words, who must keep away."""

from makegood.papers.site_book import SiteBook
from tests.papers.site import Ground, close_first, make_ground, printed, tags_of, text_of


def test_defects_stand_with_true_sizes_and_the_drawing_is_told_in_words():
    pdf = printed(make_ground(), "report")
    words = text_of(pdf)
    assert "Defects: 3 · sides: 1 · tickets: 3 · photos: 3" in words
    assert "16 mm mean, 28 mm deepest" in words
    assert words.count("1 m²") >= 3
    alts = [alt for kind, alt in tags_of(pdf) if kind == "/Figure" and alt]
    assert any(alt.startswith("Wader barn, South, drawn to scale with 3 marks: 1 Spalling; 2 Bulge") for alt in alts)
    assert any(alt.startswith("What the hatches and pins mean: ") for alt in alts)
    assert sum(alt.startswith("Photo of ") for alt in alts) == 3


def test_engineer_first_is_marked_and_left_out_of_the_sums():
    ground = make_ground()
    words = text_of(printed(ground, "report"))
    assert "Engineer first: do not touch · 2 · Wader barn, South" in words
    assert "Ticket 12: Engineer first" in words


def test_merged_list_is_the_sum_of_the_open_tickets_rounded_once():
    ground = make_ground()
    one = ground.book().repair(ground.rows["ticket"][0])
    assert one is not None
    material, need = max(one.materials.items(), key=lambda pair: pair[1]["amount"]["likely"] if pair[1]["unit"] == "kg" else 0)
    say = _say()
    words = text_of(printed(ground, "report"))
    assert say.mass(2 * need["amount"]["likely"]) in words, material
    close_first(ground)
    assert say.mass(need["amount"]["likely"]) in text_of(printed(ground, "report"))


def _say():
    from makegood.papers.words.say import Say

    return Say()


def test_pairs_stand_side_by_side_and_photos_say_when_where_and_which_way():
    ground = make_ground()
    close_first(ground)
    words = text_of(printed(ground, "report"))
    assert "Ticket 11, before" in words
    assert "Ticket 11, after" in words
    assert "20 Nov 2026, 10:00 UTC" in words
    assert "48.62031, -9.35127" in words
    assert "S (190°)" in words


def test_place_is_left_out_where_it_is_hidden_and_missing_photos_are_told():
    ground = make_ground()
    for photo in ground.rows["photo"]:
        photo.update(lat=None, lon=None, accuracy_m=None)
    ground.copies.clear()
    words = text_of(printed(ground, "report"))
    assert "48.62" not in words
    assert "still on the devices that took them: 3." in words


def test_marks_round_the_back_of_a_dome_are_drawn_unrolled():
    ground = Ground()
    dome = {"kind": "dome", "shape": "hemisphere", "radius_m": 3.0}
    barn = ground.add("structure", name="Hide", wall_material="earthbag")
    wall = ground.add("elevation", structure_id=barn["id"], name="All round", surface=dome, bearing_deg=0, openings=[])
    back = {"view": "unrolled", "shape": "pin", "points_m": [[0.5, 1.0]]}
    ground.add("defect", number=7, elevation_id=wall["id"], kind="spalling", mark=back, signs=[], note=None)
    assert isinstance(ground.book(), SiteBook)
    assert "the whole way round, unrolled" in text_of(printed(ground, "report"))
