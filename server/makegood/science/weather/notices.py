"""What is told of a weather table: each thing left out or doubtful once, with the lines it stands on.

What is told is decided in `table.py` and `clock.py`, where limits and sources stand.
"""

from dataclasses import dataclass, field

LINES_NAMED = 20
# Only told: nothing of these rows is left out but what nobody can know.
ONLY_TOLD = frozenset(
    {
        "wind_doubtful",
        "rain_doubtful",
        "rain_trace",
        "direction_variable",
        "hour_shown_twice",
        "hours_missing",
        "time_goes_back",
    }
)

_SENTENCES = {
    "time_not_understood": "Row left out: write times like 2026-03-01 14:00.",
    "row_too_short": "Row left out: it has fewer columns than the heading.",
    "number_not_understood": "Reading left out: this is not a number.",
    "wind_negative": "Wind left out: a speed cannot be below zero.",
    "wind_false": "Wind left out: far above every other reading, or above any wind ever measured.",
    "wind_doubtful": "Wind kept, but check it and its unit: an hourly mean above 75 m/s is most unlikely.",
    "rain_negative": "Rain left out: a depth cannot be below zero.",
    "rain_doubtful": "Rain kept, but check it and its unit: more than 305 mm in one hour.",
    "rain_trace": "A trace of rain, too little to measure, counted as 0 mm.",
    "direction_false": "Direction left out: it must lie between 0 and 360.",
    "direction_variable": "Variable direction: rain in such an hour is a gap, not zero.",
    "hour_twice": "Row left out: this hour was given before.",
    "hour_never_was": "Row left out: the clock was set forward over this hour; perhaps the station keeps one "
    "time all year.",
    "hour_shown_twice": "The clock was set back: this hour stands twice, first as summer time, then as winter time.",
    "unit_differs": "Reading left out: it carries another unit than its column.",
    "hours_missing": "Hours are missing before this row; they are not counted as dry.",
    "time_goes_back": "Rows stand out of time order; they were sorted.",
}


@dataclass(frozen=True)
class Notice:
    """Something left out or doubtful: how often, and the first lines it stands on (1 is the heading)."""

    code: str
    say: str
    count: int
    lines: tuple[int, ...]

    @property
    def left_out(self) -> bool:
        """Return whether a reading or a row was left out that somebody meant to give."""
        return self.code not in ONLY_TOLD


@dataclass
class Noted:
    """Codes with their lines, while a table is read."""

    lines: dict[str, list[int]] = field(default_factory=dict)

    def note(self, code: str, line: int) -> None:
        """Note one."""
        self.lines.setdefault(code, []).append(line)

    def notices(self) -> tuple[Notice, ...]:
        """Return all that was noted, by code."""
        return tuple(
            Notice(code, _SENTENCES[code], len(lines), tuple(sorted(lines)[:LINES_NAMED]))
            for code, lines in sorted(self.lines.items())
        )
