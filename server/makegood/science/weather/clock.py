"""Times as weather tables write them, to hours counted in UTC; the two days a year with a changed clock told.

Where the clock was set back, the second row of the same hour is the later one; an hour over which it was set
forward never was. Source: own rules on the time zone database of Python's zoneinfo.
"""

import re
from datetime import MAXYEAR, UTC, datetime, timedelta
from functools import lru_cache
from zoneinfo import ZoneInfo

from makegood.errors import BadInput

EPOCH = datetime(1970, 1, 1)
HOUR = timedelta(hours=1)
_NAME = re.compile(r"[A-Za-z0-9_+-]+(/[A-Za-z0-9_+-]+){0,2}\Z")


@lru_cache(maxsize=64)
def zone_named(name: str) -> ZoneInfo:
    """Return a time zone by its IANA name; raises BadInput `zone_unknown`."""
    try:
        if not _NAME.match(name):
            raise ValueError(name)
        return ZoneInfo(name)
    except (ValueError, OSError, KeyError) as fault:
        sentence = "Name the time zone as region and city, such as Europe/Madrid, or UTC."
        raise BadInput("zone_unknown", sentence, {"zone": name[:60]}) from fault


class Clock:
    """Counts hours from 1970-01-01 00:00 in UTC; in the table's own clock where no zone is named."""

    def __init__(self, zone: str | None) -> None:
        self._zone = zone_named(zone) if zone else None
        self._shown: set[datetime] = set()
        self._days: dict[int, timedelta | None] = {}

    def hour_of(self, at: datetime) -> tuple[int | None, str | None]:
        """Return the hour's number, and what to tell where the clock was changed.

        `hour_shown_twice` where it was set back; `hour_never_was`, with no number, where it was set forward.
        """
        if at.tzinfo is not None:
            return _counted(at), None
        if self._zone is None:
            return (at - EPOCH) // HOUR, None
        offset = self._offset_all_day(at)
        if offset is not None:
            return (at - offset - EPOCH) // HOUR, None
        return self._on_a_day_of_change(at)

    def _offset_all_day(self, at: datetime) -> timedelta | None:
        """Return the offset that holds all day; None on a day on which the clock is changed."""
        day = at.toordinal()
        if day not in self._days:
            begin = datetime(at.year, at.month, at.day, tzinfo=self._zone)
            early, late = begin.utcoffset(), (begin + 24 * HOUR).utcoffset() if at.year < MAXYEAR else None
            self._days[day] = early if early == late else None
        return self._days[day]

    def _on_a_day_of_change(self, at: datetime) -> tuple[int | None, str | None]:
        summer, winter = (at.replace(tzinfo=self._zone, fold=fold).utcoffset() for fold in (0, 1))
        assert summer is not None
        assert winter is not None
        if summer < winter:
            return None, "hour_never_was"
        if summer == winter:
            return (at - summer - EPOCH) // HOUR, None
        offset = winter if at in self._shown else summer
        self._shown.add(at)
        return (at - offset - EPOCH) // HOUR, "hour_shown_twice"


def _counted(at: datetime) -> int:
    try:
        at = at.astimezone(UTC).replace(tzinfo=None)
    except OverflowError:
        at = at.replace(tzinfo=None)
    return (at - EPOCH) // HOUR
