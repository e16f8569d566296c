"""What people do with their phones: record, edit, delete, photograph, decide, try again; and what a broken app sends."""

import hashlib
from collections.abc import Callable, Mapping
from typing import Any

from makegood.domain.vocabulary import choices
from tests.make import OUTLINE, PIN, SURFACE
from tests.simulate.kernel import Chance
from tests.simulate.phone.screen import Row
from tests.simulate.phone.tab import Tab
from tests.simulate.server import SITES, tiny_png

KINDS = sorted(choices("kinds"))[:4]
_EDITS: dict[str, dict[str, list[Any] | None]] = {
    "site": {"name": None, "note": None, "lat": [47.5, 47.25]},
    "structure": {"name": None, "note": None, "wall_thickness_mm": [300, 450, 600]},
    "elevation": {"name": None, "bearing_deg": [0, 90, 180, 270]},
    "defect": {"note": None, "kind": KINDS, "signs": [[], ["growing"]], "mark": [PIN, OUTLINE]},
    "ticket": {"note": None, "urgency": sorted(choices("urgencies"))},
    "storm": {"name": None, "rain_mm": [10, 20.5]},
    "survey": {"note": None},
    "clash": {"chosen": ["kept", "lost"]},
}
_DROPS = ("defect", "elevation", "ticket", "storm", "survey", "structure")
_TRIES = 4
_STEPS = ("taken", "done", "checked", "reopened")


class Person:
    """Acts on one tab at a time. Every text is new, so that one that vanishes can be told from all others."""

    def __init__(self, chance: Chance, garbage: set[str], more: Mapping[str, float]) -> None:
        self.chance, self.garbage = chance, garbage
        self.words = 0
        self.forms: dict[Tab, list[Row]] = {}
        often: dict[Callable[[Tab], Any], float] = {
            self.edit: 10, self.record: 5, self.make: 4, self.delete: 3, self.open_form: 2, self.save_form: 3,
            self.photograph: 1.2, self.step: 2, self.decide: 2, self.look_at_parked: 2, self.send_garbage: 0.5, self.found: 0.3,
        }  # fmt: skip

        self.deeds = {deed: share * more.get(deed.__name__, 1) for deed, share in often.items()}

    def act(self, tab: Tab) -> str | None:
        """Do something; returns its name, or None if there was nothing to do it on."""
        for _ in range(_TRIES):
            deed = self.chance.weighted(self.deeds)
            if task := deed(tab):
                tab.spawn(deed.__name__, task)
                return str(deed.__name__)
        return None

    def word(self) -> str:
        """Return a text never written before; now and then one that others write as well."""
        self.words += 1
        return "the same" if self.chance.happens(0.1) else f"word {self.words}"

    def site(self, tab: Tab) -> str | None:
        """Return a site of this phone."""
        own = sorted(
            {key[0] for key in tab.base} | {op["site"] for op in tab.pending if op["id"] not in self.garbage}
        )
        return (
            None
            if not own
            else SITES[0]
            if SITES[0] in own and self.chance.happens(0.7)
            else self.chance.choice(own)
        )

    def some(self, tab: Tab, *row_types: str) -> tuple[str, str, str, Row] | None:
        """Return (site, type, id, row) of a row on the screen."""
        site = self.site(tab)
        if site is None:
            return None
        row_type = self.chance.choice(row_types)
        rows = tab.all_shown(site, row_type)
        ids = [one for one in rows if one not in self.garbage]
        if not ids:
            return None
        row_id = self.chance.choice(ids)
        return site, row_type, row_id, rows[row_id]

    def edit(self, tab: Tab) -> Any:
        """Change a field or two."""
        found = self.some(
            tab,
            "site",
            "structure",
            "elevation",
            "elevation",
            "defect",
            "defect",
            "ticket",
            "storm",
            "survey",
        )
        return tab.put_many([self._edited(*found[:3])]) if found else None

    def _edited(self, site: str, row_type: str, row_id: str) -> Row:
        fields = _EDITS[row_type]
        names = self.chance.sample(sorted(fields), min(len(fields), self.chance.randint(1, 2)))
        chosen = {name: self._value(row_type, name) for name in names}
        return {"type": row_type, "site": site, "id": row_id, "set": chosen}

    def _value(self, row_type: str, name: str) -> Any:
        values = _EDITS[row_type][name]
        return self.word() if values is None else self.chance.choice(values)

    def open_form(self, tab: Tab) -> Any:
        """Begin an edit that will be saved later, against what is on the screen now."""
        found = self.some(tab, "elevation", "defect")
        base = tab.base.get(found[:3]) if found else None
        if found and base and not base["deleted"]:
            self.forms.setdefault(tab, []).append({**self._edited(*found[:3]), "seen": base["rev"]})

    def save_form(self, tab: Tab) -> Any:
        """Save the oldest open form."""
        forms = self.forms.get(tab)
        return tab.put_many([forms.pop(0)]) if forms else None

    def record(self, tab: Tab) -> Any:
        """Put a defect on a wall, with its first reading."""
        found = self.some(tab, "elevation")
        if not found:
            return None
        site, defect = found[0], self.chance.uuid()
        made = {"elevation_id": found[2], "kind": self.chance.choice(KINDS), "mark": PIN, "note": self.word()}
        reading = {"defect_id": defect, "at": tab.now(), "depth_max_mm": self.chance.randint(1, 60)}
        return tab.put_many(
            [
                {"type": "defect", "site": site, "id": defect, "set": made},
                {"type": "reading", "site": site, "set": reading},
            ]
        )

    def make(self, tab: Tab) -> Any:
        """Add something else: a wall, a ticket, a storm, a survey, a note, another reading."""
        found = self.some(tab, "structure", "defect", "defect", "site", "storm", "elevation", "ticket")
        if not found:
            return None
        site, row_type, row_id, _ = found
        now = tab.now()
        wanted = {
            "structure": (
                "elevation",
                {"structure_id": row_id, "name": self.word(), "surface": SURFACE, "bearing_deg": 90},
            ),
            "defect": self.chance.choice(
                [
                    ("ticket", {"defect_ids": [row_id], "note": self.word()}),
                    ("reading", {"defect_id": row_id, "at": now, "count": 2}),
                ]
            ),
            "site": self.chance.choice(
                [
                    ("structure", {"name": self.word(), "wall_material": "cob"}),
                    ("storm", {"name": self.word(), "began_on": "2026-11-20"}),
                ]
            ),
            "storm": ("survey", {"on": "2026-11-21", "storm_id": row_id, "note": self.word()}),
            "elevation": ("note", {"of_type": "elevation", "of_id": row_id, "at": now, "text": self.word()}),
            "ticket": ("note", {"of_type": "ticket", "of_id": row_id, "at": now, "text": self.word()}),
        }
        made_type, fields = wanted[row_type]
        return tab.put_many([{"type": made_type, "site": site, "set": fields}])

    def step(self, tab: Tab) -> Any:
        """Take a ticket, or say it is done."""
        found = self.some(tab, "ticket")
        if not found:
            return None
        fields = {"ticket_id": found[2], "kind": self.chance.choice(_STEPS), "at": tab.now()}
        return tab.put_many([{"type": "step", "site": found[0], "set": fields}])

    def photograph(self, tab: Tab) -> Any:
        """Take a picture; two phones may take the very same."""
        found = self.some(tab, "defect", "elevation")
        if not found:
            return None
        content = tiny_png(self.chance.randrange(5))
        sha256 = hashlib.sha256(content).hexdigest()
        fields = {
            "of_type": found[1], "of_id": found[2], "sha256": sha256, "media_type": "image/png", "bytes": len(content),
            "lat": 47.5, "lon": 8.1,
        }  # fmt: skip
        return tab.put_many([{"type": "photo", "site": found[0], "set": fields}], {sha256: content})

    def delete(self, tab: Tab) -> Any:
        """Delete something."""
        found = self.some(tab, *_DROPS)
        return (
            tab.put_many([{"type": found[1], "site": found[0], "id": found[2], "drop": True}])
            if found
            else None
        )

    def decide(self, tab: Tab) -> Any:
        """Pick one of two answers."""
        found = self.some(tab, "clash")
        return tab.put_many([self._edited(*found[:3])]) if found else None

    def found(self, tab: Tab) -> Any:
        """Set up a site of one's own."""
        if not tab.me or not tab.me["may_found"]:
            return None
        site = self.chance.uuid()
        return tab.put_many(
            [
                {"type": "site", "id": site, "set": {"name": self.word(), "lat": 47.1}},
                {"type": "structure", "site": site, "set": {"name": self.word(), "wall_material": "cob"}},
            ]
        )

    def look_at_parked(self, tab: Tab) -> Any:
        """Send a parked change once more, or throw it away."""
        if not tab.parked:
            return None
        op_id = self.chance.choice(tab.parked)["id"]
        return tab.retry_parked(op_id) if self.chance.happens(0.5) else tab.discard_parked(op_id)

    def send_garbage(self, tab: Tab) -> Any:
        """Send what no sound app would: refused for good, and nothing else may suffer."""
        site = self.site(tab) or SITES[0]
        op = {
            "op": self.chance.uuid(), "type": "structure", "id": self.chance.uuid(), "site": site, "kind": "put", "base": 0,
            "at": tab.now(), "set": {"name": self.word(), "wall_material": "cob"},
        }  # fmt: skip
        broken: list[Row] = [
            {"type": "spaceship"}, {"kind": "paint"}, {"base": -1}, {"base": True}, {"at": "yesterday"}, {"set": None},
            {"set": [1]},
            {"set": {"__proto__": 1}}, {"set": {"name": 5, "wall_material": "cob"}}, {"set": {"name": "x"}}, {"id": "no id"},
            {"set": {"name": "\x00", "wall_material": "cob"}}, {"site": "no site"}, {"type": "photo", "set": {"stored": True}},
            {"type": "clash", "set": {"chosen": "kept"}}, {"type": "reading", "kind": "del"},
        ]  # fmt: skip
        op |= self.chance.choice(broken)
        self.garbage.add(op["id"])
        return tab.keep_raw(op)
