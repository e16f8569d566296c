"""Areas, edges and lengths on walls against ways of reckoning that share nothing with the code but the shape.

Area: scipy.integrate.quad over slices (level rings from above), and dblquad of the bare area element; never
along the outline. Edge and length: the sum of straight chords in space between points of the wall, pushed to
the limit by Richardson's rule; no derivative at all. Crossing: shapely. The vectors in shared/vectors were
made by this file's functions.
"""

import json
import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.integrate import dblquad, quad
from shapely import contains_xy
from shapely.geometry import LinearRing, Polygon

from makegood.errors import OutlineRefused
from makegood.paths import shared_dir
from makegood.science.outline import crosses_itself, reckon_area, reckon_length

COS_75 = math.cos(math.radians(75))


class Wall:
    """A wall of revolution from its description: radius and slope over height, height over radius."""

    def __init__(self, surface):
        self.given, self.kind = surface, surface.get("shape", surface["kind"])
        self.bends, self.hole = [], 0.0
        if self.kind == "round_wall":
            self._rings([[surface["radius_m"], 0], [surface["radius_m"], surface["height_m"]]])
        elif self.kind == "cone":
            top = surface["top_radius_m"]
            self._rings([[surface["base_radius_m"], 0], [top, surface["height_m"]]])
        elif self.kind == "profile":
            self._rings(surface["points_m"])
        elif self.kind == "lancet":
            self.foot, self.height = surface["base_radius_m"], surface["height_m"]
            self.arc = (self.foot**2 + self.height**2) / (2 * self.foot)
            self.widest = self.foot
        else:
            self.foot = surface.get("radius_m", surface.get("base_radius_m"))
            self.height = surface.get("height_m", self.foot)
            self.arc = (self.foot**2 + self.height**2) / (2 * self.height)
            self.widest = self.arc if self.height > self.foot else self.foot

    def _rings(self, points):
        self.radii, self.heights = np.array(points, float).T
        self.foot, self.height, self.widest = self.radii[0], self.heights[-1], self.radii.max()
        self.hole, self.bends = self.radii[-1], list(self.heights[1:-1])

    def r(self, z):
        if self.kind == "lancet":
            return np.sqrt(self.arc**2 - z**2) - (self.arc - self.foot)
        if hasattr(self, "radii"):
            return np.interp(z, self.heights, self.radii)
        return np.sqrt(np.maximum(0, self.arc**2 - (z - self.height + self.arc) ** 2))

    def dr(self, z):
        if self.kind == "lancet":
            return -z / np.sqrt(self.arc**2 - z**2)
        if hasattr(self, "radii"):
            k = np.clip(np.searchsorted(self.heights, z, "right") - 1, 0, len(self.radii) - 2)
            return (np.diff(self.radii) / np.diff(self.heights))[k]
        with np.errstate(divide="ignore"):
            return -(z - self.height + self.arc) / self.r(z)

    def shown(self):
        """Radii and heights of the rings that show from above, from the hole out."""
        first = int(np.flatnonzero(self.radii == self.widest)[-1])
        return self.radii[first:][::-1], self.heights[first:][::-1]

    def z(self, rho):
        if self.kind == "lancet":
            return np.sqrt(np.maximum(0, self.arc**2 - (rho + self.arc - self.foot) ** 2))
        if hasattr(self, "radii"):
            return np.interp(rho, *self.shown())
        return self.height - self.arc + np.sqrt(np.maximum(0, self.arc**2 - rho**2))

    def dz(self, rho):
        if self.kind == "lancet":
            return -(rho + self.arc - self.foot) / np.sqrt(self.arc**2 - (rho + self.arc - self.foot) ** 2)
        if hasattr(self, "radii"):
            radii, heights = self.shown()
            k = np.clip(np.searchsorted(radii, rho, "right") - 1, 0, len(radii) - 2)
            return np.where(rho < self.hole, 0.0, (np.diff(heights) / np.diff(radii))[k])
        return -rho / np.sqrt(self.arc**2 - rho**2)

    def place(self, view, x, y):
        """View points to space, (..., 3)."""
        if view == "above":
            return np.stack([x, y, self.z(np.hypot(x, y))], -1)
        r = self.r(y)
        with np.errstate(invalid="ignore", divide="ignore"):
            turn = x / self.foot if view == "unrolled" else np.arcsin(np.clip(np.nan_to_num(x / r), -1, 1))
        return np.stack([r * np.sin(turn), r * np.cos(turn), y], -1)

    def facing(self, view, x, y):
        """Cosine between the wall's normal and the line of sight."""
        if view == "above":
            return 1 / np.hypot(1, self.dz(np.hypot(x, y)))
        return np.sqrt(np.maximum(0, 1 - (x / self.r(y)) ** 2)) / np.hypot(1, self.dr(y))


def _edges(points, closed):
    p = np.array(points, float)
    return list(zip(p, np.roll(p, -1, 0), strict=True)) if closed else list(pairwise(p))


def _bends(wall, view, a, b):
    """Where along an edge, 0 to 1, the wall bends beneath it."""
    cuts = {0.0, 1.0}
    d = b - a
    if view == "above":
        cuts.add(-(a @ d) / (d @ d))
        for rho in wall.shown()[0] if hasattr(wall, "radii") else []:
            cuts |= {t.real for t in np.roots([d @ d, 2 * (a @ d), a @ a - rho**2]) if abs(t.imag) < 1e-9}
    elif d[1]:
        cuts |= {(z - a[1]) / d[1] for z in wall.bends}
    return sorted(t for t in cuts if 0 <= t <= 1)


def length_by_chords(surface, view, points, closed):
    wall, total = Wall(surface), 0.0
    for a, b in _edges(points, closed):
        for low, high in pairwise(_bends(wall, view, a, b)):
            sums = []
            for n in (2048, 4096, 8192, 16384):
                t = low + (high - low) * (1 - np.cos(np.pi * np.arange(n + 1) / n)) / 2
                places = wall.place(view, *(a[:, None] + (b - a)[:, None] * t))
                sums.append(np.linalg.norm(np.diff(places, axis=0), axis=1).sum())
            while len(sums) > 1:
                order = 4 ** (5 - len(sums))
                sums = [(order * fine - rough) / (order - 1) for rough, fine in pairwise(sums)]
            total += sums[0]
    return total


def _crossings(edges, y):
    return sorted(
        a[0] + (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1]) for a, b in edges if (a[1] > y) != (b[1] > y)
    )


def _pieces(f, cuts):
    cuts = sorted(set(cuts))
    return sum(quad(f, a, b, epsabs=1e-14, epsrel=1e-12, limit=400)[0] for a, b in pairwise(cuts))


def area_by_slices(surface, view, points):
    wall, edges = Wall(surface), _edges(points, True)
    ys = [p[1] for p in points]

    def slice_m(z):
        xs, r = np.array(_crossings(edges, z)), wall.r(z)
        turns = xs / wall.foot if view == "unrolled" else np.arcsin(np.clip(xs / r, -1, 1))
        return (turns[1::2] - turns[::2]).sum() * r * math.hypot(1, wall.dr(z))

    if view != "above":
        return _pieces(slice_m, [*ys, *(z for z in wall.bends if min(ys) < z < max(ys))])

    polygon = Polygon(points)

    def ring_m(rho):
        turns = []
        for a, b in edges:
            d = b - a
            half = (a @ d) ** 2 - (d @ d) * (a @ a - rho * rho)
            if half > 0:
                ts = [(-(a @ d) + s * math.sqrt(half)) / (d @ d) for s in (-1, 1)]
                turns += [math.atan2(*(a + t * d)[::-1]) for t in ts if 0 <= t < 1]
        turns = sorted(turns) or [-math.pi]
        inside = 0.0
        for k, low in enumerate(turns):
            high = turns[k + 1] if k + 1 < len(turns) else turns[0] + 2 * math.pi
            middle = (low + high) / 2
            if contains_xy(polygon, rho * math.cos(middle), rho * math.sin(middle)):
                inside += high - low
        return inside * rho * math.hypot(1, wall.dz(rho))

    far = max(math.hypot(*p) for p in points)
    cuts = [wall.hole, far, *(math.hypot(*p) for p in points)]
    for a, b in edges:
        d = b - a
        t = -(a @ d) / (d @ d)
        if 0 < t < 1:
            cuts.append(math.hypot(*(a + t * d)))
    cuts += list(wall.shown()[0]) if hasattr(wall, "radii") else []
    return _pieces(ring_m, [rho for rho in cuts if wall.hole <= rho <= far])


def is_steep(surface, view, points, closed):
    wall = Wall(surface)
    t = np.linspace(0, 1, 2001)[1:-1]
    for a, b in _edges(points, closed) if view != "unrolled" else []:
        if (wall.facing(view, *(a[:, None] + (b - a)[:, None] * t)) < COS_75).any():
            return True
    return False


def area_expected(surface, view, points):
    """What a vector's `out` has to be."""
    drawn = Polygon(points).area
    if surface["kind"] == "flat":
        stretch = 1 / math.cos(math.radians(surface["batter_deg"]))
        true = Polygon([(x, y * stretch) for x, y in points])
        return {"area_m2": true.area, "as_drawn_m2": drawn, "perimeter_m": true.length, "warnings": []}
    warnings = ["steep_view"] if is_steep(surface, view, points, True) else []
    area, edge = area_by_slices(surface, view, points), length_by_chords(surface, view, points, True)
    return {"area_m2": area, "as_drawn_m2": drawn, "perimeter_m": edge, "warnings": warnings}


def length_expected(surface, view, points):
    """What a vector's `out` has to be."""
    drawn = sum(math.dist(a, b) for a, b in _edges(points, False))
    if surface["kind"] == "flat":
        stretch = 1 / math.cos(math.radians(surface["batter_deg"]))
        true = [(x, y * stretch) for x, y in points]
        return {"length_m": sum(map(math.dist, true, true[1:])), "as_drawn_m": drawn, "warnings": []}
    warnings = ["steep_view"] if is_steep(surface, view, points, False) else []
    return {
        "length_m": length_by_chords(surface, view, points, False),
        "as_drawn_m": drawn,
        "warnings": warnings,
    }


def _drawn_cases(file):
    cases = json.loads((shared_dir() / "vectors" / file).read_text(encoding="utf-8"))["cases"]
    points = "outline_m" if file == "area.json" else "line_m"
    return [pytest.param(c, points, id=c["name"]) for c in cases if "out" in c and points in c["in"]]


def _close(got, expected, relative):
    assert {k: v for k, v in got.items() if k != "warnings"} == pytest.approx(
        {k: v for k, v in expected.items() if k != "warnings"}, rel=relative
    )
    assert got["warnings"] == expected["warnings"]


@pytest.mark.parametrize(("case", "points"), _drawn_cases("area.json"))
def test_area_vector_is_what_slices_and_chords_give(case, points):
    given_in = case["in"]
    _close(case["out"], area_expected(given_in["surface"], given_in["view"], given_in[points]), 1e-9)


@pytest.mark.parametrize(("case", "points"), _drawn_cases("length.json"))
def test_length_vector_is_what_chords_give(case, points):
    given_in = case["in"]
    _close(case["out"], length_expected(given_in["surface"], given_in["view"], given_in[points]), 1e-9)


SURFACES = [
    {"kind": "round_wall", "radius_m": 2.5, "height_m": 2.8},
    {"kind": "dome", "shape": "hemisphere", "radius_m": 3.0},
    {"kind": "dome", "shape": "cap", "base_radius_m": 3.0, "height_m": 2.0},
    {"kind": "dome", "shape": "cap", "base_radius_m": 2.0, "height_m": 3.2},
    {"kind": "dome", "shape": "lancet", "base_radius_m": 3.0, "height_m": 6.0},
    {"kind": "dome", "shape": "cone", "base_radius_m": 2.0, "top_radius_m": 0.4, "height_m": 3.0},
    {
        "kind": "dome",
        "shape": "profile",
        "points_m": [[2.4, 0], [2.4, 0.6], [2.1, 1.7], [1.2, 2.8], [0.25, 3.3]],
    },
]


@st.composite
def outlines(draw, views=("seen", "unrolled", "above")):
    """A surface, a view, and a star of 3 to 9 corners on the wall, to the millimetre."""
    surface = draw(st.sampled_from(SURFACES))
    view = draw(st.sampled_from([v for v in views if not (v == "above" and surface["kind"] == "round_wall")]))
    wall, n = Wall(surface), draw(st.integers(3, 9))
    share = st.floats(0, 1)
    reach = draw(st.floats(0.05, 1.2))
    if view == "above":
        rho, turn = wall.hole + (wall.widest - wall.hole) * (0.02 + 0.95 * draw(share)), 6.28 * draw(share)
        middle = rho * math.cos(turn), rho * math.sin(turn)
    else:
        z = wall.height * (0.05 + 0.9 * draw(share))
        half = wall.r(z) if view == "seen" else math.pi * wall.foot
        middle = half * 1.9 * (draw(share) - 0.5) + (half if view == "unrolled" else 0), z
    corners = []
    for k in range(n):
        turn, far = 2 * math.pi * (k + 0.8 * draw(share)) / n, reach * (0.3 + 0.7 * draw(share))
        corners.append(
            (round(middle[0] + far * math.cos(turn), 3), round(middle[1] + far * math.sin(turn), 3))
        )
    for x, y in corners:
        if view == "above":
            assume(wall.hole <= math.hypot(x, y) <= wall.widest)
        else:
            assume(0 <= y <= wall.height)
            low, high = (-wall.r(y), wall.r(y)) if view == "seen" else (0, 2 * math.pi * wall.foot)
            assume(low <= x <= high)
    assume(LinearRing(corners).is_simple and Polygon(corners).area > 1e-4)
    return surface, view, corners


@settings(max_examples=120, deadline=None)
@given(outlines())
def test_area_and_edge_of_random_outlines_hold_to_a_millionth(drawn):
    surface, view, corners = drawn
    reckoned = reckon_area(surface, view, corners)
    assert reckoned.area_m2 == pytest.approx(area_by_slices(surface, view, corners), rel=1e-6)
    assert reckoned.perimeter_m == pytest.approx(length_by_chords(surface, view, corners, True), rel=1e-6)
    assert reckoned.as_drawn_m2 == pytest.approx(Polygon(corners).area, rel=1e-9)


@settings(max_examples=25, deadline=None)
@given(outlines(views=("seen", "above")))
def test_area_of_random_convex_outlines_is_the_double_integral_of_the_area_element(drawn):
    surface, view, corners = drawn
    hull = list(Polygon(corners).convex_hull.exterior.coords)[:-1]
    wall, edges = Wall(surface), _edges(hull, True)
    assume(view == "seen" or wall.hole == 0)
    # Kinks and square roots inside the region slow dblquad down to nothing; the slices above cover them.
    assume(not is_steep(surface, view, hull, True) and not hasattr(wall, "radii"))

    def stretch(x, y):
        return 1 / wall.facing(view, x, y)

    low, high = min(y for _, y in hull), max(y for _, y in hull)
    cuts = sorted({y for _, y in hull})
    total = 0.0
    for a, b in pairwise(cuts):
        total += dblquad(
            stretch, a, b, lambda y: _crossings(edges, y)[0], lambda y: _crossings(edges, y)[-1], epsrel=1e-9
        )[0]
    assert high > low
    assert reckon_area(surface, view, hull).area_m2 == pytest.approx(total, rel=1e-6)


@settings(max_examples=60, deadline=None)
@given(outlines())
def test_length_of_random_lines_holds_to_a_millionth(drawn):
    surface, view, corners = drawn
    expected = length_by_chords(surface, view, corners, False)
    assert reckon_length(surface, view, corners).length_m == pytest.approx(expected, rel=1e-6)


@settings(max_examples=400, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 12), st.integers(0, 12)), min_size=3, max_size=9))
def test_crossing_and_touching_agree_with_shapely(corners):
    assume(all(a != b for a, b in zip(corners, corners[1:] + corners[:1], strict=True)))
    points = [(x / 10, y / 10) for x, y in corners]
    # Tenths do not add up exactly, so shapely is asked in whole numbers.
    assert crosses_itself(points) == (not LinearRing(corners).is_simple)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.floats(0.1, 4.9), st.floats(0.1, 2.9)), min_size=4, max_size=12))
def test_random_scribbles_are_refused_exactly_when_shapely_calls_them_not_simple(corners):
    corners = [(round(x, 3), round(y, 3)) for x, y in corners]
    assume(len(set(corners)) == len(corners) and Polygon(corners).area > 1e-6)
    flat = {"kind": "flat", "width_m": 5, "height_m": 3, "batter_deg": 0}
    if LinearRing(corners).is_simple:
        assert reckon_area(flat, "seen", corners).area_m2 == pytest.approx(Polygon(corners).area, rel=1e-9)
    else:
        with pytest.raises(OutlineRefused) as refusal:
            reckon_area(flat, "seen", corners)
        assert refusal.value.code == "outline_crosses_itself"
