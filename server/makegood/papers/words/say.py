"""Sentences, names of the trade and numbers of one paper: its language, its measures."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from makegood.domain.vocabulary import shared
from makegood.papers.words.en import EN
from makegood.papers.words.es import ES
from makegood.papers.words.lasting import LASTING_EN, LASTING_ES
from makegood.science.range import Range
from makegood.science.units import convert

BOOKS: Mapping[str, Mapping[str, str]] = {"en": {**EN, **LASTING_EN}, "es": {**ES, **LASTING_ES}}
MEASURES = ("metric", "us")
_MONTHS = {
    "en": ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sept", "Oct", "Nov", "Dec"],
    "es": ["ene", "feb", "mar", "abr", "may", "jun", "jul", "ago", "sept", "oct", "nov", "dic"],
}
_COMPASS = ["N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE", "S", "SSW", "SW", "WSW", "W", "WNW", "NW", "NNW"]
# Buckets and cups in quarters, spoons in halves: finer cannot be seen by eye.
_QUARTER, _HALF = 0.25, 0.5
_CUP_L = {"metric": 0.25, "us": convert(1, "cup", "l")}
_TBSP_L = {"metric": 0.015, "us": convert(1, "tbsp", "l")}
_BUCKET_L = {"metric": 10.0, "us": 4 * convert(1, "us_gal", "l")}
_QUARTERS = ("", "¼", "½", "¾")


@dataclass(frozen=True)
class Say:
    """How one paper speaks."""

    language: str = "en"
    measures: str = "metric"

    def __call__(self, key: str, **parts: object) -> str:
        """Return a sentence with its parts filled in."""
        return BOOKS[self.language][key].format(**parts)

    def of(self, words: Mapping[str, Any], name: str | None = None) -> str:
        """Return one of shared data's words, which are a text or have parts such as `name`."""
        found = words[self.language]
        return str(found if name is None else found[name])

    def term(self, of: str, term_id: object, name: str | None = "name") -> str:
        """Return the name of a term of the vocabulary; an unknown one stands as it is written."""
        for one in shared("vocabulary")[of]:
            if one["id"] == term_id:
                words = one["words"][self.language]
                return str(words[name] if isinstance(words, dict) else words)
        return "" if term_id is None else str(term_id)

    def source(self, english: str) -> str:
        """Return where a figure comes from, in this language; a title stands as it is."""
        return str(shared("sources").get(self.language, {}).get(english, english))

    @property
    def us(self) -> bool:
        """Whether lengths are feet."""
        return self.measures == "us"

    def number(self, value: float, digits: int = 1, whole: bool = False) -> str:
        """Return a number with at most so many decimals (`whole`: all of them), its marks those of the language."""
        text = f"{value:,.{digits}f}"
        text = text.rstrip("0").rstrip(".") if "." in text and not whole else text
        text = "0" if text == "-0" else text
        return text.translate(str.maketrans(",.", ".,")) if self.language == "es" else text

    def _three(self, value: float) -> str:
        return self.number(value, 0 if abs(value) >= 100 else 1 if abs(value) >= 10 else 2)

    def metres(self, value_m: float) -> str:
        """Return a length."""
        return f"{self._three(convert(value_m, 'm', 'ft'))} ft" if self.us else f"{self._three(value_m)} m"

    def mm(self, value_mm: float) -> str:
        """Return a thickness or depth."""
        return f"{self.number(convert(value_mm, 'mm', 'in'), 2)} in" if self.us else f"{self.number(value_mm)} mm"

    def area(self, value_m2: float) -> str:
        """Return an area."""
        return f"{self._three(convert(value_m2, 'm2', 'ft2'))} ft²" if self.us else f"{self._three(value_m2)} m²"

    def mass(self, kg: float) -> str:
        """Return a mass."""
        if self.us:
            lb = convert(kg, "kg", "lb")
            return f"{self.number(lb * 16)} oz" if lb < 1 else f"{self.number(lb)} lb"
        return f"{self.number(kg * 1000, 0)} g" if kg < 1 else f"{self.number(kg)} kg"

    def volume(self, litres: float) -> str:
        """Return a volume: spoons for little, litres or gallons for the rest."""
        if self.us:
            spoon = self.number(convert(litres, "l", "tbsp"))
            return f"{spoon} {self('tbsp')}" if litres < 0.25 else f"{self.number(convert(litres, 'l', 'us_gal'))} gal"
        return f"{self.number(litres * 1000, 0)} mL" if litres < 0.25 else f"{self.number(litres)} L"

    def amount(self, value: float, unit: str) -> str:
        """Return an amount of a material in its unit."""
        say = {"kg": self.mass, "l": self.volume, "m2": self.area}.get(unit)
        return say(value) if say else self("each", n=self.number(value))

    def spread(self, amount: Range, unit: str) -> str:
        """Return a likely amount with its least and most."""
        likely = self.amount(amount["likely"], unit)
        if amount["low"] == amount["high"]:
            return likely
        return f"{likely} ({self.amount(amount['low'], unit)} – {self.amount(amount['high'], unit)})"

    def measured(self, litres: float, bucket_l: float | None) -> str:
        """Return a loose volume in buckets, cups or spoons, the largest it fills a quarter of."""
        bucket = bucket_l or _BUCKET_L[self.measures]
        for unit, size, step, least in (
            ("bucket", bucket, _QUARTER, _QUARTER),
            ("cup", _CUP_L[self.measures], _QUARTER, 1.0),
            ("tbsp", _TBSP_L[self.measures], _HALF, 0.0),
        ):
            if litres >= least * size:
                count = max(step, round(litres / size / step) * step) if litres > 0 else 0.0
                return f"{self._quarters(count)} {self(unit if count > 1 else f'{unit}_one')}"
        raise AssertionError("a volume is never below 0")

    def _quarters(self, count: float) -> str:
        whole, part = int(count), round(count % 1 * 4)
        return f"{self.number(whole, 0) if whole or not part else ''}{_QUARTERS[part]}"

    def bucket(self, bucket_l: float | None) -> str:
        """Return what one bucket holds."""
        return self("bucket_is", l=self.volume(bucket_l or _BUCKET_L[self.measures]))

    def days(self, low: float, high: float) -> str:
        """Return a span of days."""
        return self.number(low) if low == high else self("days_range", low=self.number(low), high=self.number(high))

    def day(self, iso: str | None) -> str:
        """Return a date, or nothing for none."""
        if not iso:
            return ""
        on = date.fromisoformat(iso[:10])
        month = _MONTHS[self.language][on.month - 1]
        return f"{month} {on.day}, {on.year}" if self.us and self.language == "en" else f"{on.day} {month} {on.year}"

    def moment(self, iso: str | None) -> str:
        """Return a date with its time; times are written in UTC, as the rows are."""
        return f"{self.day(iso)}, {iso[11:16]} UTC" if iso and len(iso) > 10 else self.day(iso)

    def bearing(self, deg: float) -> str:
        """Return the nearest of sixteen compass points with its degrees; in Spanish west is O."""
        point = _COMPASS[round((deg % 360) / 22.5) % 16]
        return f"{point.replace('W', 'O') if self.language == 'es' else point} ({self.number(deg % 360, 0)}°)"
