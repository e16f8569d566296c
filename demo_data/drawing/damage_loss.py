"""What has broken, worn or been eaten away, and what it looks like mended."""

import math
from random import Random

from PIL import Image, ImageDraw

from .damage_crack import crack
from .texture import (
    SIZE,
    Point,
    Wall,
    as_mask,
    blob,
    clouds,
    downward,
    filled,
    noise,
    ragged,
    soft,
    stroked,
    sums,
    wander,
)


def scar(wall: Wall, rng: Random, under: Wall, outline: list[Point], depth_mm: float) -> Image.Image:
    """Break plaster away inside an outline down to the wall under it; return the mask of the hole."""
    hole = ragged(rng, filled(outline), 20, 0.6, 0.05, 80)
    rim = ragged(rng, hole, 9, 0.5, 0.1, 26)
    edge = sums(lambda a: a["max"](a["r"] - a["h"], 0), r=soft(rim, 5), h=hole)
    wall.push(-depth_mm * 0.4, edge)
    wall.wash((226, 214, 190), edge, 0.55)
    wall.lay(under.below(depth_mm), hole)
    return hole


def spalling(wall: Wall, rng: Random, under: Wall, size: float = 1.0) -> None:
    """Spalling: a few sharp scars through the render, the largest with cracks running from its corners."""
    scar(wall, rng, under, blob(rng, (560, 430), (600 * size, 430 * size), 11), 22)
    scar(wall, rng, under, blob(rng, (960, 700), (150, 120), 8), 12)
    scar(wall, rng, under, blob(rng, (240, 690), (110, 90), 8), 10)
    crack(wall, rng, [(810, 500), (900, 600), (940, 670)], 4, 8)
    crack(wall, rng, [(330, 300), (220, 180), (190, 40)], 3, 6)


def missing_render(wall: Wall, rng: Random, under: Wall) -> None:
    """Missing render: one whole area gone, running out of the picture at the foot, a loose edge above."""
    scar(
        wall,
        rng,
        under,
        [(180, 910), (230, 520), (380, 300), (640, 240), (860, 330), (1010, 560), (1060, 910)],
        28,
    )
    crack(wall, rng, [(640, 250), (650, 120), (740, -10)], 4, 8)


def exposed(wall: Wall, rng: Random, under: Wall) -> None:
    """Exposed wall: the coats worn through over a wide area with a feathered edge."""
    torn = clouds(rng, 120, 5, 0.6)
    where = soft(filled(blob(rng, (620, 470), (980, 720))), 100)
    gone = sums(
        lambda a: a["min"](a["max"]((a["t"] * 0.5 + a["w"] - 0.5) / 0.16 + 0.5, 0), 1), t=torn, w=where
    )
    wall.lay(under.below(10), gone)


def erosion(wall: Wall, rng: Random, under: Wall) -> None:
    """Erosion: face worn back in runnels, straw and grit standing proud, worst low down."""
    runs = noise(rng, 46, 9.0)
    depth = sums(
        lambda a: a["min"](a["max"](a["d"] * 1.5 - 0.25 + a["r"] * 0.3 + a["c"] * 0.35, 0), 1),
        d=downward(),
        r=runs,
        c=clouds(rng, 150, 4),
    )
    wall.lay(under.below(14), sums(lambda a: a["min"](a["d"] * 2.2, 1), d=depth))
    wall.rough(9, runs, depth)
    wall.rough(6, clouds(rng, 16, 3, 0.7), depth)


def washout(wall: Wall, rng: Random, under: Wall, widest_mm: float = 150, depth_mm: float = 55) -> None:
    """Washout: a gully cut from the wall top down, with a fan of mud stain below."""
    path = wander(rng, [(560, -20), (600, 240), (560, 520), (640, 920)], 0.10, 4)
    gully = ragged(rng, stroked(path, lambda part: widest_mm * (0.55 + 0.6 * part)), 12, 0.8, 0.10, 54)
    deep = soft(stroked(path, lambda part: widest_mm * (0.18 + 0.35 * part)), 16)
    streak = soft(stroked(path, lambda part: widest_mm * (1.1 + 1.3 * part)), 46)
    wall.wash(
        (126, 92, 58), sums(lambda a: a["s"] * (a["n"] * 0.3 + 0.5), s=streak, n=noise(rng, 22, 12)), 0.75
    )
    wall.lay(under.below(depth_mm * 0.45), gully)
    wall.push(-depth_mm, deep)
    wall.rough(7, noise(rng, 24, 7.0), gully)
    wall.darken(0.62, deep)
    wall.darken(0.86, gully)


def below_cap(wall: Wall, rng: Random, cap: Wall) -> None:
    """A coping course along the top of the picture, one length of it cracked away."""
    top = filled([(-20, -20), (470, -20), (480, 150), (-20, 160)])
    right = filled([(700, -20), (1230, -20), (1230, 160), (690, 146)])
    for length in (top, right):
        mask = ragged(rng, length, 5, 0.4, 0.08, 40)
        wall.lay(Wall(cap.colour, sums(lambda a: a["h"] + 34, h=cap.height)), mask)


def undercut(wall: Wall, rng: Random, under: Wall, ground: Wall) -> None:
    """Undercut foot: a notch eaten in above the ground, dark under the overhang."""
    lip = [(x, 590 + 36 * math.sin(x / 170) + rng.uniform(-22, 22)) for x in range(-40, 1280, 60)]
    notch = ragged(rng, filled([*lip, (1280, 830), (-40, 830)]), 12, 0.5, 0.06, 60)
    wall.lay(under.below(30), notch)
    wall.push(-60, notch)
    roof = soft(stroked(wander(rng, lip, 0.05, 2), lambda _: 120).rotate(0, translate=(0, 52)), 30)
    wall.darken(0.30, sums(lambda a: a["r"] * a["n"], r=roof, n=notch))
    wall.darken(0.6, notch)
    soil = ragged(
        rng,
        filled([(-40, 800), (300, 786), (700, 806), (1280, 790), (1280, 960), (-40, 960)]),
        14,
        0.5,
        0.06,
        40,
    )
    wall.lay(ground, soil)
    damp = soft(filled([(-40, 470), (1280, 450), (1280, 640), (-40, 640)]), 60)
    wall.darken(0.80, sums(lambda a: a["d"] * (1 - a["n"]) * (1 - a["s"]), d=damp, n=notch, s=soil))


def holes(wall: Wall, rng: Random, many: int = 46) -> None:
    """Bee holes in a cluster, and one larger gnawed hole low down."""
    grey = Image.new("L", SIZE, 0)
    pen = ImageDraw.Draw(grey)
    for _ in range(many):
        x, y, r = rng.gauss(600, 190), rng.gauss(400, 130), rng.uniform(6.5, 11)
        pen.ellipse([x - r, y - r, x + r, y + r], fill=255)
    pen.polygon(blob(rng, (880, 760), (110, 84), 10), fill=255)
    mouths = as_mask(grey)
    dust = soft(mouths.rotate(0, translate=(0, 14)), 6)
    wall.wash((196, 160, 112), dust, 0.7)
    wall.push(-45, mouths)
    wall.darken(0.22, mouths)


def patched(wall: Wall, rng: Random, fresh: Wall, outline: list[Point], proud_mm: float = 1.5) -> None:
    """A mended place: cut back square to a sound edge, filled flush, a fine joint round it."""
    edge = wander(rng, [*outline, outline[0]], 0.03, 2)
    patch = soft(filled(edge), 1.6)
    wall.lay(Wall(fresh.colour, sums(lambda a: a["h"] + proud_mm, h=fresh.height)), patch)
    joint = stroked(edge, lambda _: 2.2)
    wall.push(-2.5, joint)
    wall.darken(0.66, joint)


def filled_line(wall: Wall, rng: Random, fresh: Wall, path: list[Point], wide_mm: float = 34) -> None:
    """A raked out and filled crack."""
    seam = ragged(rng, stroked(wander(rng, path, 0.08, 4), lambda _: wide_mm), 4, 0.4, 0.2, 30)
    wall.lay(Wall(fresh.colour, sums(lambda a: a["h"] - 0.5, h=fresh.height)), seam)
    wall.darken(0.9, sums(lambda a: a["max"](a["s"] - a["m"], 0), s=soft(seam, 3), m=seam))
