"""A case of driving_rain.json or dose.json, from its JSON to a call and back."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from makegood.domain.ledger.place import face_of
from makegood.science import driving_rain
from makegood.science.weather import told


def run_rain_case(given: Mapping[str, Any]) -> Any:
    """One hour, hours, or a storm by totals, onto one face."""
    if "hour" in given:
        return {"l_m2": driving_rain.wall_index(**given["hour"])}
    face, exposure = driving_rain.Face(**given["face"]), driving_rain.Exposure(wall=given.get("driven", 1.0))
    if "hours" in given:
        rain = driving_rain.rain_hours(told.hours_of(given["hours"]))
        l_m2 = sum(driving_rain.dose_by_hour(rain, face, exposure).l_m2)
        return {"l_m2": float(l_m2), "known_h": rain.known_hours, "missing_h": len(rain.missing)}
    return driving_rain.storm_dose(driving_rain.BareStorm(**given["storm"]), face, exposure)


def run_dose_case(given: Mapping[str, Any]) -> Any:
    """Totals of hours, a storm onto the parts of a wall, or the face of a finish by its region."""
    if "totals" in given:
        return told.totals_of(given["totals"])
    if "region" in given:
        return vars(face_of(**given))
    storm = replace(told.Told(), **given["storm"])
    parts = told.parts_of(given["surface"], given["bearing_deg"], given["bands"])
    doses = told.part_doses(storm, parts)
    return {"parts": [{**one._asdict(), "face": vars(one.face)} for one in parts], "doses": doses}
