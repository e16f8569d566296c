"""Which finish lies where on a side, and since when: the newest region that holds the spot, else what covers the whole side."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise
from math import degrees
from typing import Any

from makegood.science.dome import Flat
from makegood.science.driving_rain import Face
from makegood.science.surface import Point, Surface, angle_of, point_of, surface_from
from makegood.science.weather.told import face_at

Mark = Mapping[str, Any]


@dataclass(frozen=True)
class Laid:
    """One finish of a side: its region (None covers the whole side), its days, and the ticket it was laid for."""

    id: str
    made_on: date | None
    ended_on: date | None = None
    region: Mark | None = None
    ticket_id: str | None = None

    def stood_on(self, on: date) -> bool:
        """Return whether it was on the wall that day; the day it came off still counts."""
        return (self.made_on is None or self.made_on <= on) and (self.ended_on is None or on <= self.ended_on)


def middle(mark: Mark) -> Point:
    """Return the mean of a mark's points [m], the spot that stands for it."""
    points: Sequence[Sequence[float]] = mark["points_m"]
    return sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points)


def face_of(surface: object, bearing_deg: float, region: Mark | None) -> Face:
    """Return the face of a finish, by the spot that stands for it.

    That is the middle of its region, else of the whole side: half-way up its drawn middle line.
    """
    wall = surface_from(surface)
    if isinstance(wall, Flat) or region is None:
        return face_at(wall, bearing_deg, 0.0, wall.height / 2)
    angle, z_m = angle_of(wall, region["view"], middle(region))
    return face_at(wall, bearing_deg, degrees(angle), z_m)


def lies(point: Point, outline: Sequence[Sequence[float]]) -> bool:
    """Return whether a point lies inside an outline, by the crossings to its right."""
    inside = False
    for (ax, ay), (bx, by) in pairwise([*outline, outline[0]]):
        crosses = (ay > point[1]) != (by > point[1])
        if crosses and point[0] < ((bx - ax) * (point[1] - ay)) / (by - ay) + ax:
            inside = not inside
    return inside


def in_view(surface: Surface, spot: Point, seen_in: str, wanted: str) -> Point | None:
    """Return a spot of one view as it lies in another [m]; None where that view hides it."""
    if seen_in == wanted or isinstance(surface, Flat):
        return spot
    return point_of(surface, wanted, *angle_of(surface, seen_in, spot))


def holds(surface: object, region: Mark, spot: Point, seen_in: str) -> bool:
    """Return whether a drawn region holds a spot that was marked in this or another view."""
    there = in_view(surface_from(surface), spot, seen_in, region["view"])
    return there is not None and lies(there, region["points_m"])


def finish_at(surface: object, finishes: Iterable[Laid], mark: Mark, on: date) -> Laid | None:
    """Return the finish on which a mark lay that day: newest region first, then the newest over the whole side."""
    stood = sorted((one for one in finishes if one.stood_on(on)), key=newest_last, reverse=True)
    spot = middle(mark)
    for one in stood:
        if one.region is not None and holds(surface, one.region, spot, mark["view"]):
            return one
    return next((one for one in stood if one.region is None), None)


def newest_last(one: Laid) -> tuple[str, str]:
    """Order finishes by the day they were laid, those without a day first; ids decide between equals."""
    return (one.made_on.isoformat() if one.made_on else "", one.id)
