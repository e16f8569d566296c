"""One look from icon to printed sheet: icon, papers, hatches and the system's frame have the colours of the screens."""

import re

import pytest

from makegood.domain.vocabulary import shared
from makegood.papers.page import hatch, sheet, wall
from tests.house.tree import ROOT

WEB = ROOT / "web"
STYLE = (WEB / "src" / "style.css").read_text(encoding="utf-8")
COLOUR = re.compile(r"--([\w-]+): (#[0-9a-f]{3,6})\b")


def colours_of(block: str) -> dict[str, str]:
    """Return the colours that a block of the style sheet names."""
    found = re.search(re.escape(block) + r" \{(.*?)\n\}", STYLE, re.DOTALL)
    assert found, block
    return dict(COLOUR.findall(found.group(1)))


SCREEN = colours_of(":root")
GLARE = colours_of(":root[data-glare]")


def channel(part: str) -> float:
    """Return the linear light of one of a colour's three parts, two hex digits (WCAG 2.2, relative luminance)."""
    value = int(part, 16) / 255
    return value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4


def contrast(one: str, other: str) -> float:
    """Return the contrast of two colours (WCAG 2.2)."""
    six = [c if len(c) == 7 else "#" + "".join(2 * d for d in c[1:]) for c in (one, other)]
    lights = sorted(0.2126 * channel(c[1:3]) + 0.7152 * channel(c[3:5]) + 0.0722 * channel(c[5:7]) for c in six)
    return (lights[1] + 0.05) / (lights[0] + 0.05)


@pytest.mark.parametrize(
    ("paper", "screen"),
    [
        (sheet.INK, "ink"), (sheet.SOFT, "soft"), (sheet.CLAY, "clay"), (sheet.INDIGO, "indigo"), (sheet.SAGE, "sage"),
        (sheet.LIMEWASH, "lime"), (sheet.CLAY_WASH, "clay-wash"), (sheet.FAINT, "line"), (hatch._PLAIN, "soft"),
        (wall._COAT, "wall"), (wall._HOLE, "hole"), (wall._PANE, "paper"),
    ],
)  # fmt: skip
def test_papers_have_the_screens_colours(paper, screen):
    assert paper == SCREEN[screen]


@pytest.mark.parametrize(
    ("family", "screen"),
    [
        ("crack_deformation", "ink"), ("detachment", "indigo"), ("loss", "clay"), ("discoloration", "ochre"), ("growth", "sage"),
    ],
)  # fmt: skip
def test_hatches_have_the_screens_colours(family, screen):
    assert shared("drawings")["families"][family]["colour"] == SCREEN[screen]
    assert shared("drawings")["fills"]["coat"] == SCREEN["wall"]


def test_icon_has_the_screens_colours():
    icon = (WEB / "public" / "icon.svg").read_text(encoding="utf-8")
    assert set(re.findall(r"#[0-9a-f]{6}", icon)) == {SCREEN[name] for name in ("lime", "wall", "ink", "clay", "sage")}


def test_the_systems_frame_has_the_screens_ground():
    named = [
        *re.findall(r'_color": "(#\w+)"', (WEB / "public" / "manifest.webmanifest").read_text(encoding="utf-8")),
        *re.findall(r'theme-color" content="(#\w+)"', (WEB / "index.html").read_text(encoding="utf-8")),
        *re.findall(r'plain: "(#\w+)"', (WEB / "src" / "parts" / "frame" / "looks.ts").read_text(encoding="utf-8")),
    ]
    assert named == [SCREEN["lime"]] * 4


def test_text_is_dark_enough_for_the_open():
    for ground in ("lime", "paper"):
        for text in ("ink", "soft", "clay", "indigo", "sage", "ochre"):
            assert contrast(SCREEN[text], SCREEN[ground]) >= 7, (text, ground)


def test_glare_leaves_black_and_white():
    """Each colour of the screens is named anew, so that no tint is left over."""
    assert set(SCREEN) <= set(GLARE)
    assert set(GLARE.values()) == {"#000", "#fff"}
    assert contrast("#000", "#fff") == pytest.approx(21)
    icon = (WEB / "public" / "icon-glare.svg").read_text(encoding="utf-8")
    assert set(re.findall(r"#[0-9a-f]{6}", icon)) == {"#000000", "#ffffff"}
