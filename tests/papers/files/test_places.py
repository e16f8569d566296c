"""Places: GeoJSON as RFC 7946 wants it, read by shapely."""

import json

from shapely.geometry import shape

from tests.papers.site import make_ground, printed


def test_longitude_comes_first_and_only_what_has_a_place_is_there():
    ground = make_ground()
    ground.rows["photo"][0].update(lat=None, lon=None)
    found = json.loads(printed(ground, "places"))
    assert found["type"] == "FeatureCollection"
    points = {one["id"]: shape(one["geometry"]) for one in found["features"]}
    assert set(points) == {ground.site, *(one["id"] for one in ground.rows["photo"][1:])}
    point = points[ground.rows["photo"][1]["id"]]
    assert (point.x, point.y) == (-9.35127, 48.62031)
    assert not any({"lat", "lon", "file_facts"} & set(one["properties"]) for one in found["features"])
