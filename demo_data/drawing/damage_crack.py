"""Cracks, bulges, leaning and loose plaster: what moves or lets go before anything falls."""

import math
from random import Random

from PIL import Image, ImageDraw, ImageFilter, ImageOps

from .texture import (
    SIZE,
    Point,
    Wall,
    as_grey,
    as_mask,
    blob,
    clouds,
    filled,
    noise,
    ragged,
    soft,
    stroked,
    sums,
    wander,
)


def crack(
    wall: Wall, rng: Random, path: list[Point], width_mm: float, depth_mm: float = 14, taper: float = 0.75
) -> None:
    """Open one crack along a path, widest at its start."""
    line = wander(rng, path, 0.17, 5)
    mask = stroked(line, lambda part: max(0.5, width_mm * (1 - taper * part) * rng.uniform(0.7, 1.2)))
    lip = soft(mask, 2.2 + width_mm / 6)
    wall.push(-depth_mm, mask)
    wall.darken(0.25 if width_mm > 2 else 0.42, mask)
    wall.darken(0.86, lip)


def hairline(wall: Wall, rng: Random) -> None:
    """Hairline crack: one thin wandering line with a short branch."""
    crack(wall, rng, [(250, -10), (420, 330), (560, 560), (640, 910)], 1.3, 3, 0.2)
    crack(wall, rng, [(440, 360), (640, 430), (760, 420)], 1.0, 2, 0.5)


def structural(wall: Wall, rng: Random, widest_mm: float = 15) -> None:
    """Structural crack: stepped, tapering downwards, with side cracks and a chipped lip."""
    path = wander(
        rng,
        [(560, -10), (600, 150), (720, 210), (700, 400), (560, 470), (600, 640), (690, 760), (700, 910)],
        0.10,
        2,
    )
    chips = ragged(rng, soft(stroked(path, lambda _: widest_mm * 2.4), 6), 4, 1.0, 0.1, 30)
    wall.push(-5, chips)
    wall.wash((168, 140, 104), chips, 0.6)
    crack(wall, rng, path, widest_mm, 60, 0.6)
    crack(wall, rng, [(715, 240), (860, 300), (930, 420)], widest_mm * 0.3, 12)
    crack(wall, rng, [(570, 470), (430, 520), (380, 640)], widest_mm * 0.3, 12)


def crazing(wall: Wall, rng: Random, cell_mm: float = 74) -> None:
    """Crazing: a net of fine cracks round plates of plaster, faint at its edges."""
    net = Image.new("L", SIZE, 0)
    pen = ImageDraw.Draw(net)
    corner = {}
    columns, rows = int(SIZE[0] / cell_mm) + 3, int(SIZE[1] / cell_mm) + 3
    for row in range(rows):
        for column in range(columns):
            shift = 0.5 if row % 2 else 0.0
            corner[column, row] = (
                (column - 1 + shift + rng.uniform(-0.34, 0.34)) * cell_mm,
                (row - 1 + rng.uniform(-0.34, 0.34)) * cell_mm,
            )
    for (column, row), start in corner.items():
        for ahead in ((column + 1, row), (column, row + 1)):
            if ahead in corner and rng.random() < 0.86:
                pen.line(
                    wander(rng, [start, corner[ahead]], 0.2, 3),
                    fill=rng.randrange(150, 255),
                    width=rng.choice((1, 2, 2)),
                )
    within = soft(ragged(rng, filled(blob(rng, (600, 450), (1050, 800))), 60, 0.5, 0.3), 18)
    lines = sums(lambda a: a["n"] * a["w"], n=as_mask(net), w=within)
    wall.push(-3, lines)
    wall.darken(0.42, lines)
    wall.darken(0.92, soft(lines, 3))


def bulge(wall: Wall, rng: Random, out_mm: float = 70) -> None:
    """Bulge: a belly pushed out of the wall, cracked over its crown, in shade on its far side."""
    small = as_grey(soft(filled(blob(rng, (600, 450), (620, 540))), 70)).resize(
        (15, 11), Image.Resampling.BOX
    )
    belly = sums(lambda a: a["s"] / 255, s=small.convert("F").resize(SIZE, Image.Resampling.BICUBIC))
    wall.push(out_mm * 1.25, belly)
    wall.rough(8, clouds(rng, 200, 3), belly)
    for turn in (0.2, 1.5, 2.9, 4.0, 5.2):
        reach = rng.uniform(150, 260)
        crack(
            wall, rng, [(600, 450), (600 + reach * math.cos(turn), 450 + reach * 0.8 * math.sin(turn))], 5, 10
        )
    crack(wall, rng, [(330, 600), (470, 730), (690, 750), (860, 640)], 7, 14, 0.3)


def hollow(wall: Wall, rng: Random) -> None:
    """Hollow place: still in place, its edge found by tapping and marked round in chalk."""
    ring = wander(rng, [*(edge := blob(rng, (600, 450), (680, 520), 12)), edge[0]], 0.08, 2)
    wall.push(9, soft(filled(edge), 40))
    chalk = clouds(rng, 9, 2)
    marks = Image.new("L", SIZE, 0)
    pen = ImageDraw.Draw(marks)
    for start in range(0, len(ring) - 2, 3):
        pen.line(ring[start : start + 3], fill=255, width=8)
    for _ in range(20):
        turn, part = rng.uniform(0, 6.28), math.sqrt(rng.random()) * 0.8
        x, y = 600 + 330 * part * math.cos(turn), 450 + 240 * part * math.sin(turn)
        pen.line([(x - 13, y - 13), (x + 13, y + 13)], fill=230, width=6)
        pen.line([(x - 13, y + 13), (x + 13, y - 13)], fill=230, width=6)
    worn = sums(
        lambda a: a["m"] * a["min"](a["max"](a["c"] * 0.9 + 0.72, 0), 1), m=soft(as_mask(marks), 1.2), c=chalk
    )
    wall.wash((52, 78, 138), worn, 0.9)
    crack(wall, rng, [edge[7], edge[8], edge[9], edge[10]], 2.4, 5, 0.4)


def delamination(wall: Wall, rng: Random, under: Wall, core: Wall, size: float = 1.0) -> None:
    """Delamination: a sheet of coat standing off the coat below, its broken edge throwing a deep shadow."""
    corners = [(-190, -120), (140, -210), (300, 20), (150, 240), (-130, 230), (-250, 60)]
    lost = ragged(rng, filled([(600 + x * size, 460 + y * size) for x, y in corners]), 16, 0.6, 0.05, 90)
    deeper = ragged(rng, filled(blob(rng, (640, 500), (260 * size, 220 * size), 9)), 16, 0.7, 0.06, 60)
    sheet = soft(filled(blob(rng, (600, 450), (960, 800))), 80)
    wall.push(56, sums(lambda a: a["n"] * a["s"], n=soft(lost, 60), s=sheet))
    wall.lay(under.below(9), lost)
    wall.lay(core.below(24), sums(lambda a: a["d"] * a["l"], d=deeper, l=lost))
    for a, b in (((890, 480), (1150, 560)), ((400, 350), (180, 180)), ((500, 690), (440, 900))):
        crack(wall, rng, [a, b], 4 * size, 8)


def flaking(wall: Wall, rng: Random, under: Wall, size: float = 1.0) -> None:
    """Flaking: small scales of limewash gone or curling at their edges."""
    where = soft(filled(blob(rng, (600, 440), (1000, 760))), 110)
    torn = clouds(rng, 74, 5, 0.62)
    gone = sums(
        lambda a: a["min"](a["max"]((a["t"] * 0.9 + a["w"] * 1.15 - 1.02 + 0.10 * size) / 0.05, 0), 1),
        t=torn,
        w=where,
    )
    rim = sums(lambda a: a["max"](a["s"] - a["g"], 0), s=soft(gone, 7), g=gone)
    wall.push(12, rim)
    wall.lay(under.below(2.5), gone)
    crazing_like = sums(
        lambda a: a["max"](1 - abs(a["n"]) * 16, 0) * a["w"] * (1 - a["g"]), n=noise(rng, 46), w=where, g=gone
    )
    wall.push(-1.5, crazing_like)
    wall.darken(0.7, crazing_like)


def lean(picture: Image.Image) -> None:
    """Show a leaning corner against the sky; the gap under the plumb line is the lean."""
    sky = ImageOps.colorize(Image.linear_gradient("L").resize(picture.size), (152, 172, 190), (214, 218, 214))
    beyond = Image.new("L", picture.size, 0)
    ImageDraw.Draw(beyond).polygon([(640, -10), (1210, -10), (1210, 910), (800, 910)], fill=255)
    picture.paste(sky, (0, 0), beyond.filter(ImageFilter.GaussianBlur(1.2)))
    pen = ImageDraw.Draw(picture)
    pen.line([(640, -10), (800, 910)], fill=(108, 96, 82), width=5)
    pen.line([(652, 0), (652, 640)], fill=(40, 34, 30), width=7)
    pen.line([(650, 0), (650, 640)], fill=(214, 92, 44), width=5)
    pen.polygon([(630, 640), (670, 640), (670, 690), (650, 742), (630, 690)], fill=(150, 118, 52))
    pen.polygon([(630, 640), (642, 640), (642, 700), (650, 742), (630, 690)], fill=(206, 172, 92))
    pen.rectangle([636, 626, 664, 642], fill=(96, 74, 34))
