"""What holds for every finish, whatever was recorded; the written cases are in shared/vectors/ledger.json."""

from dataclasses import replace
from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st

from makegood.domain.ledger.follow import Done, Found, Look, RainOn, Scored, Side, Walk, follow
from makegood.domain.ledger.place import Laid

FLAT = {"kind": "flat", "width_m": 10, "height_m": 3, "batter_deg": 0}
MADE = date(2025, 9, 1)
VERDICTS = {"spalling": "let_go", "erosion": "worn"}
PIN = {"view": "seen", "shape": "pin", "points_m": [[1, 1]]}
DAYS = st.integers(-30, 400).map(lambda n: MADE + timedelta(days=n))
TELLS = st.sampled_from(["held", "worn", "let_go"])


@st.composite
def sides(draw):
    """Any records of one finish over a whole side."""
    sheets = draw(st.lists(st.tuples(DAYS, TELLS), max_size=6))
    scores = [Scored(f"s{n}", "f", on, told) for n, (on, told) in enumerate(sheets)]
    looks = tuple(Look(f"r{n}", on) for n, on in enumerate(draw(st.lists(DAYS, max_size=3))))
    kind = draw(st.sampled_from(["spalling", "erosion", "staining", None]))
    walks = tuple(Walk(f"w{n}", on) for n, on in enumerate(draw(st.lists(DAYS, max_size=4))))
    steps = tuple(Done(f"d{n}", "t", told, on) for n, (on, told) in enumerate(
        draw(st.lists(st.tuples(DAYS, st.sampled_from(["checked", "reopened", "done"])), max_size=3))))  # fmt: skip
    rain = tuple(RainOn(on, dose) for on, dose in draw(
        st.lists(st.tuples(DAYS, st.none() | st.floats(0, 200)), max_size=5)))  # fmt: skip
    ended = draw(st.none() | st.integers(0, 400).map(lambda n: MADE + timedelta(days=n)))
    laid, found = Laid("f", MADE, ended, None, "t"), Found("d", kind, PIN, looks)
    return Side(FLAT, (laid,), tuple(scores), (found,), walks, steps, {"f": rain})


@given(sides())
def test_intervals_are_in_order_and_end_only_where_it_let_go(side):
    (one,) = follow(side, VERDICTS)
    assert one.days is not None
    assert (one.days.right is None) == (one.verdict != "let_go")
    assert one.days.left >= 0
    if one.days.right is not None:
        assert one.days.left < one.days.right or one.days == (0, 0)
    if one.l_m2 is not None:
        assert (one.l_m2.right is None) == (one.days.right is None)
        assert 0 <= one.l_m2.left <= (one.l_m2.right if one.l_m2.right is not None else one.l_m2.left)
    if one.verdict != "let_go":
        assert one.l_m2 is not None


@given(sides(), st.integers(0, 399))
def test_one_more_sound_look_never_shortens_what_it_stood(side, later):
    (before,) = follow(side, VERDICTS)
    more = Scored("more", "f", MADE + timedelta(days=later), "held")
    (after,) = follow(replace(side, scores=(*side.scores, more)), VERDICTS)
    assert after.days.left >= before.days.left
    assert after.days.right == before.days.right


@given(sides(), st.integers(0, 399))
def test_one_more_failure_never_lengthens_it(side, later):
    (before,) = follow(side, VERDICTS)
    more = Scored("more", "f", MADE + timedelta(days=later), "let_go")
    (after,) = follow(replace(side, scores=(*side.scores, more)), VERDICTS)
    assert after.days.left <= before.days.left
    assert before.days.right is None or after.days.right <= before.days.right


@given(sides())
def test_the_order_of_the_records_does_not_matter(side):
    rain = {"f": side.rain["f"][::-1]}
    turned = replace(side, scores=side.scores[::-1], walks=side.walks[::-1], steps=side.steps[::-1], rain=rain)
    (one,), (other,) = follow(side, VERDICTS), follow(turned, VERDICTS)
    assert (one.verdict, one.looks, one.days) == (other.verdict, other.looks, other.days)


@given(sides())
def test_each_look_says_which_row_told_it(side):
    (one,) = follow(side, VERDICTS)
    known = {row.id for rows in (side.scores, side.walks, side.steps, side.defects[0].readings) for row in rows}
    assert {sighting.id for sighting in one.sightings} <= known
    assert [sighting.on for sighting in one.sightings] == sorted(sighting.on for sighting in one.sightings)
