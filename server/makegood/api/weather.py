"""Hourly weather from a station's file, read for the storms in it. Nothing of it is kept here."""

from typing import Any

from flask import current_app, request
from marshmallow import EXCLUDE, Schema, fields, validate

from makegood.api.guard import StrictBlueprint, current_device
from makegood.api.schemas import RefusalSchema
from makegood.errors import TooLarge, WrongKind
from makegood.science.weather.dates import DATE_ORDERS
from makegood.science.weather.table import RAIN_UNITS_MM, WIND_UNITS_M_S
from makegood.work.weather.read_station import StationWish, check_may_log, read_station

MAX_TABLE_BYTES = 16 * 1024 * 1024
TABLE_TYPE = "text/csv"
_BODY = {"content": {TABLE_TYPE: {"schema": {"type": "string"}}}, "required": True}
_COLUMN = validate.Length(max=200)
_FIGURE: dict[str, Any] = {"allow_none": True, "required": True}

blueprint = StrictBlueprint("weather", __name__, url_prefix="/api/weather", description=__doc__)


class StationSchema(Schema):
    """Which column holds what, in which units, zone and order of day and month; what is left out is guessed."""

    class Meta:
        """Names that are no part of this are let be, as in any address."""

        unknown = EXCLUDE

    time = fields.String(validate=_COLUMN)
    wind = fields.String(validate=_COLUMN)
    wind_from = fields.String(validate=_COLUMN)
    rain = fields.String(validate=_COLUMN)
    station = fields.String(validate=_COLUMN)
    station_is = fields.String(validate=_COLUMN)
    wind_unit = fields.String(validate=validate.OneOf(list(WIND_UNITS_M_S)))
    rain_unit = fields.String(validate=validate.OneOf(list(RAIN_UNITS_MM)))
    date_order = fields.String(validate=validate.OneOf(DATE_ORDERS))
    zone = fields.String(load_default="UTC", validate=validate.Length(min=1, max=60))
    apart_h = fields.Integer(load_default=12, validate=validate.Range(min=1, max=96))
    keep_good = fields.Boolean(load_default=False)


class ColumnsSchema(Schema):
    """The columns of the table, and which hold what as it was read."""

    all = fields.List(fields.String(), required=True)
    stations = fields.List(fields.String(), required=True)
    time = fields.String(required=True)
    wind = fields.String(**_FIGURE)
    wind_from = fields.String(required=True)
    rain = fields.String(**_FIGURE)
    wind_unit = fields.String(required=True)
    rain_unit = fields.String(required=True)
    wind_unit_sure = fields.Boolean(required=True)
    rain_unit_sure = fields.Boolean(required=True)
    date_order = fields.String(required=True)
    date_order_sure = fields.Boolean(required=True)
    station = fields.String(**_FIGURE)
    station_is = fields.String(**_FIGURE)


class TroubleSchema(Schema):
    """Something wrong or doubtful, with the first lines it stands on; left_out: readings were set aside for it."""

    code = fields.String(required=True)
    say = fields.String(required=True)
    line = fields.Integer(required=True)
    lines = fields.List(fields.Integer(), required=True)
    count = fields.Integer(required=True)
    left_out = fields.Boolean(required=True)


class HoursSchema(Schema):
    """Hours on end, as a storm's row holds them."""

    from_ = fields.String(data_key="from", attribute="from", required=True)
    rain_mm = fields.List(fields.Float(allow_none=True), required=True)
    wind_m_s = fields.List(fields.Float(allow_none=True), required=True)
    from_deg = fields.List(fields.Float(allow_none=True), required=True)


class SpellSchema(Schema):
    """One wet spell, with its totals and the class of its wettest hour."""

    from_ = fields.String(data_key="from", attribute="from", required=True)
    on = fields.String(required=True)
    hours = fields.Nested(HoursSchema, required=True)
    duration_h = fields.Integer(required=True)
    missing_h = fields.Integer(required=True)
    rain_mm = fields.Float(**_FIGURE)
    rain_1h_mm = fields.Float(**_FIGURE)
    rain_24h_mm = fields.Float(**_FIGURE)
    rain_96h_mm = fields.Float(**_FIGURE)
    wind_m_s = fields.Float(**_FIGURE)
    wind_from_deg = fields.Float(**_FIGURE)
    wind_top_m_s = fields.Float(**_FIGURE)
    peak_mm_h = fields.Float(required=True)
    scale = fields.String(required=True)
    class_ = fields.String(data_key="class", attribute="class", required=True)
    beaufort = fields.Integer(**_FIGURE)


class StationReadSchema(Schema):
    """What a table holds. While troubles leave readings out and keep_good was not said, no spells are given."""

    hours = fields.Integer(required=True)
    first = fields.String(**_FIGURE)
    last = fields.String(**_FIGURE)
    zone = fields.String(required=True)
    columns = fields.Nested(ColumnsSchema, required=True)
    troubles = fields.List(fields.Nested(TroubleSchema), required=True)
    spells = fields.List(fields.Nested(SpellSchema), required=True)
    spells_left_out = fields.Integer(required=True)


def _table() -> bytes:
    if request.mimetype != TABLE_TYPE:
        raise WrongKind("csv_expected", f"Send the table as {TABLE_TYPE}.")
    streamed = request.content_length is None and "Transfer-Encoding" in request.headers
    if streamed or (request.content_length or 0) > MAX_TABLE_BYTES:
        raise TooLarge("table_too_large", "Send a table of at most 16 MiB: leave out years or columns.")
    request.max_content_length = MAX_TABLE_BYTES
    return request.get_data(cache=False)


@blueprint.post("/<site_id>")
@blueprint.alt_response(403, schema=RefusalSchema, description="its role may not log storms, or X-CSRF is wrong")
@blueprint.alt_response(404, schema=RefusalSchema, description="no such site for this device")
@blueprint.alt_response(413, schema=RefusalSchema, description="more than 16 MiB")
@blueprint.alt_response(415, schema=RefusalSchema, description="not sent as text/csv")
@blueprint.alt_response(429, schema=RefusalSchema, description="too many tables in a minute")
@blueprint.arguments(StationSchema, location="query")
@blueprint.doc(requestBody=_BODY)
@blueprint.response(200, StationReadSchema)
def read_table(given: dict[str, Any], site_id: str) -> dict[str, Any]:
    """Read a weather station's table: its columns, what is wrong with it, and the wet spells in it."""
    device = current_device()
    check_may_log(device, site_id)
    current_app.extensions["makegood_sync_pace"].enter(f"{device.id} weather")
    rest = {name: given.pop(name) for name in ("zone", "apart_h", "keep_good")}
    return read_station(_table(), StationWish(given, **rest))
