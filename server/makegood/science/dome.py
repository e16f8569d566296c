"""The shapes a wall can have, as the numbers the other sums ask of them.

A round wall or a dome is a surface of revolution: its profile r(z) [m] over the height z [m] from the foot.
Area comes from the meridian weight m(z) = r sqrt(1 + r'^2): dA = m dz dtheta. Four shapes serve all kinds:
Flat, Cap (hemisphere too), Lancet, Profile (round wall, cone, measured points). Valid from 1 mm to 500 m.
Sources: cap and frustum, school geometry; lancet, own derivation, see
tests/reference/test_c15_lancet_dome.py.
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from functools import cached_property
from math import atan2, cos, inf, pi, radians, sqrt
from typing import ClassVar

_NEAR_AXIS = 0.02
# Nearer to an upright rim than this share of its radius, rounding would make the fall anything.
_LEAST_ROOM = 1e-14
_GAUSS_4 = (
    (0.069431844202973712, 0.173927422568726929),
    (0.330009478207571868, 0.326072577431273071),
    (0.669990521792428132, 0.326072577431273071),
    (0.930568155797026288, 0.173927422568726929),
)


@dataclass(frozen=True)
class Flat:
    """A plane wall: width and upright height [m]; batter [deg] is its lean back from upright, -60 to 60."""

    width: float
    height: float
    batter_deg: float = 0.0

    @property
    def stretch(self) -> float:
        """Length up the face per metre of height."""
        return 1.0 / cos(radians(self.batter_deg))

    @property
    def area(self) -> float:
        """True area [m2]."""
        return self.width * self.height * self.stretch


@dataclass(frozen=True)
class Cap:
    """Part of a sphere cut level: foot radius a, height H [m]; H = a is a hemisphere, H > a bulges out.

    r^2 = (H - z)(z + a^2/H); sphere radius (a^2 + H^2)/(2H); area 2 pi Rc H. Source: school geometry.
    """

    foot_radius: float
    height: float
    top_radius: ClassVar[float] = 0.0
    breaks: ClassVar[tuple[float, ...]] = ()
    above_breaks: ClassVar[tuple[float, ...]] = ()
    shows_above: ClassVar[bool] = True

    @cached_property
    def sphere_radius(self) -> float:
        """Radius of the sphere [m]."""
        return (self.foot_radius**2 + self.height**2) / (2 * self.height)

    def radius(self, z: float) -> float:
        """Radius [m] at height z [m]."""
        return sqrt(max(0.0, (self.height - z) * (z + self.foot_radius**2 / self.height)))

    def slope(self, z: float) -> float:
        """dr/dz at height z; minus infinity at the very top."""
        r = self.radius(z)
        return (self.height - self.sphere_radius - z) / r if r > 0 else -inf

    def weight(self, z: float) -> float:
        """Meridian weight m(z) [m]: constant on a sphere (Archimedes)."""
        return self.sphere_radius

    @property
    def area(self) -> float:
        """True area of the whole [m2]."""
        return 2 * pi * self.sphere_radius * self.height

    @property
    def silhouette(self) -> float:
        """Area of the front view [m2]: a circle's segment."""
        rc, d = self.sphere_radius, self.sphere_radius - self.height
        return rc * rc * (pi / 2 - atan2(d, self.foot_radius)) - d * self.foot_radius

    @property
    def shown_radius(self) -> float:
        """Largest radius [m]."""
        return self.sphere_radius if self.height > self.foot_radius else self.foot_radius

    def height_at(self, rho: float) -> float:
        """Height [m] of the part showing from above at distance rho [m] from the axis."""
        return self.height - rho * rho * self.crown(rho) / self.sphere_radius

    def fall(self, rho: float) -> float:
        """-dz/drho where it shows from above; held at 1e7 at an upright rim."""
        rc = self.sphere_radius
        return rho / sqrt(max(rc - rho, _LEAST_ROOM * rc) * (rc + rho))

    def crown(self, rho: float) -> float:
        """True area within rho of the axis, per radian and per rho^2 (dimensionless, smooth at the axis)."""
        rc = self.sphere_radius
        return rc / (rc + sqrt(max(0.0, (rc - rho) * (rc + rho))))


@dataclass(frozen=True)
class Lancet:
    """A pointed dome: each side an arc centred at foot level; foot radius a, height H >= a [m].

    R = (a^2 + H^2)/(2a), e = R - a, r = sqrt(R^2 - z^2) - e, area 2 pi R (H - e asin(H/R)).
    """

    foot_radius: float
    height: float
    top_radius: ClassVar[float] = 0.0
    breaks: ClassVar[tuple[float, ...]] = ()
    above_breaks: ClassVar[tuple[float, ...]] = ()
    shows_above: ClassVar[bool] = True

    @property
    def shown_radius(self) -> float:
        """Largest radius [m]."""
        return self.foot_radius

    @cached_property
    def arc_radius(self) -> float:
        """Radius R of each arc [m]."""
        return (self.foot_radius**2 + self.height**2) / (2 * self.foot_radius)

    @cached_property
    def offset(self) -> float:
        """How far e beyond the axis each arc has its centre [m]."""
        return (self.height - self.foot_radius) * (self.height + self.foot_radius) / (2 * self.foot_radius)

    def _root(self, z: float) -> float:
        return sqrt(max(0.0, (self.arc_radius - z) * (self.arc_radius + z)))

    def radius(self, z: float) -> float:
        """Radius [m] at height z [m]; written so that it keeps its digits near the point."""
        below = self._root(z) + self.offset
        return max(0.0, (self.height - z) * (self.height + z) / below) if below > 0 else 0.0

    def slope(self, z: float) -> float:
        """dr/dz at height z."""
        root = self._root(z)
        return -z / root if root > 0 else -inf

    def weight(self, z: float) -> float:
        """Meridian weight m(z) = r R/(r + e) [m]."""
        root = self._root(z)
        return self.radius(z) * self.arc_radius / root if root > 0 else self.arc_radius

    @property
    def area(self) -> float:
        """True area of the whole [m2]."""
        return 2 * pi * self.arc_radius * (self.height - self.offset * atan2(self.height, self.offset))

    @property
    def silhouette(self) -> float:
        """Area of the front view [m2]: R^2 (phi + sin 2phi / 2) - 2 e R sin phi, phi = asin(H/R)."""
        phi = atan2(self.height, self.offset)
        return self.arc_radius**2 * phi + self.height * self.offset - 2 * self.offset * self.height

    def _above_root(self, rho: float) -> float:
        return sqrt(max(0.0, (self.foot_radius - rho) * (self.arc_radius + self.offset + rho)))

    def height_at(self, rho: float) -> float:
        """Height [m] at distance rho [m] from the axis."""
        return self._above_root(rho)

    def fall(self, rho: float) -> float:
        """-dz/drho at rho; held at 1e7 at the upright foot."""
        room = max(self.foot_radius - rho, _LEAST_ROOM * self.foot_radius)
        return (rho + self.offset) / sqrt(room * (self.arc_radius + self.offset + rho))

    def crown(self, rho: float) -> float:
        """True area within rho of the axis, per radian and rho^2; by Gauss where the closed form cancels."""
        R, e = self.arc_radius, self.offset  # noqa: N806
        if rho < _NEAR_AXIS * self.foot_radius:
            return sum(w * s * R / self._above_root(rho * s) for s, w in _GAUSS_4)
        q = self._above_root(rho)
        turn = atan2((rho + e) * self.height - e * q, q * self.height + e * (rho + e))
        return R * ((rho + 2 * e) / (self.height + q) - e * turn / rho) / rho


@dataclass(frozen=True)
class Profile:
    """Straight between measured rings: points ((radius, height), ...) [m] from the foot at height 0, rising.

    Area pi (r0 + r1) times the slant, ring by ring. Source: the cone frustum of school geometry.
    """

    points: tuple[tuple[float, float], ...]

    @cached_property
    def foot_radius(self) -> float:
        """Radius at the foot [m]."""
        return self.points[0][0]

    @cached_property
    def top_radius(self) -> float:
        """Radius of the opening at the top [m]; 0 where it closes in a point."""
        return self.points[-1][0]

    @cached_property
    def height(self) -> float:
        """Height [m]."""
        return self.points[-1][1]

    @cached_property
    def breaks(self) -> tuple[float, ...]:
        """Heights [m] between foot and top where the slope changes."""
        return tuple(z for _, z in self.points[1:-1])

    def _rings(self) -> list[tuple[float, float, float, float]]:
        pairs = zip(self.points, self.points[1:], strict=False)
        return [(r0, r1, z1 - z0, sqrt((r1 - r0) ** 2 + (z1 - z0) ** 2)) for (r0, z0), (r1, z1) in pairs]

    def _ring_at(self, z: float) -> tuple[float, float, float]:
        k = bisect_right(self.breaks, z)
        (r0, z0), (r1, z1) = self.points[k], self.points[k + 1]
        slope = (r1 - r0) / (z1 - z0)
        return r0, z - z0, slope

    def radius(self, z: float) -> float:
        """Radius [m] at height z [m]."""
        r0, up, slope = self._ring_at(z)
        return max(0.0, r0 + up * slope)

    def slope(self, z: float) -> float:
        """dr/dz at height z."""
        return self._ring_at(z)[2]

    def weight(self, z: float) -> float:
        """Meridian weight m(z) = r sqrt(1 + r'^2) [m]."""
        r0, up, slope = self._ring_at(z)
        return max(0.0, r0 + up * slope) * sqrt(1 + slope * slope)

    @property
    def area(self) -> float:
        """True area of the whole [m2]."""
        return sum(pi * (r0 + r1) * slant for r0, r1, _, slant in self._rings())

    @property
    def silhouette(self) -> float:
        """Area of the front view [m2]."""
        return sum((r0 + r1) * rise for r0, r1, rise, _ in self._rings())

    @cached_property
    def shown_radius(self) -> float:
        """Largest radius [m]."""
        return max(r for r, _ in self.points)

    @cached_property
    def _shown(self) -> tuple[tuple[float, float, float, float], ...]:
        """From the top down: outer and inner radius, height of the inner, area per radian within it."""
        widest = max(k for k, (r, _) in enumerate(self.points) if r == self.shown_radius)
        shown, within = [], 0.0
        for k in range(len(self.points) - 2, widest - 1, -1):
            (r0, z0), (r1, z1) = self.points[k], self.points[k + 1]
            shown.append((r0, r1, z1, within))
            within += (r0 + r1) / 2 * sqrt((r1 - r0) ** 2 + (z1 - z0) ** 2)
        return tuple(shown)

    @property
    def shows_above(self) -> bool:
        """Whether it draws in from every ring to the next above its widest."""
        return bool(self._shown) and all(outer > inner for outer, inner, _, _ in self._shown)

    @cached_property
    def above_breaks(self) -> tuple[float, ...]:
        """Radii [m] where the slope changes as seen from above, the opening at the top among them."""
        return tuple(inner for _, inner, _, _ in self._shown if inner > 0)

    def _above(self, rho: float) -> tuple[float, float, float, float]:
        """Inner radius, its height, area per radian within it, fall: of the ring that shows at rho."""
        k = min(bisect_right([outer for outer, _, _, _ in self._shown], rho), len(self._shown) - 1)
        outer, inner, z, within = self._shown[k]
        below = self._shown[k + 1][2] if k + 1 < len(self._shown) else self._lowest_shown
        return inner, z, within, (z - below) / (outer - inner)

    @cached_property
    def _lowest_shown(self) -> float:
        return max(z for r, z in self.points if r == self.shown_radius)

    def height_at(self, rho: float) -> float:
        """Height [m] of the part showing from above at rho [m]."""
        inner, z, _, fall = self._above(rho)
        return z - max(0.0, rho - inner) * fall

    def fall(self, rho: float) -> float:
        """-dz/drho where it shows from above; 0 over the opening at the top."""
        return 0.0 if rho < self.top_radius else self._above(rho)[3]

    def crown(self, rho: float) -> float:
        """True area within rho of the axis, per radian and rho^2; the top's opening counts as nothing."""
        if rho < self.top_radius:
            return 0.0
        inner, _, within, fall = self._above(rho)
        stretch = sqrt(1 + fall * fall)
        if inner == 0:
            return stretch / 2
        return (within + stretch * (rho - inner) * (rho + inner) / 2) / (rho * rho)
