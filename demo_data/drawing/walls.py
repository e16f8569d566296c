"""Walls before anything went wrong: limewash, lime render, clay skim, cob, adobe, rammed earth, stone."""

import math
from random import Random

from PIL import Image, ImageChops, ImageDraw

from .texture import (
    SIZE,
    Colour,
    Point,
    Wall,
    as_mask,
    blob,
    clouds,
    filled,
    flat,
    noise,
    ragged,
    soft,
    stroked,
    sums,
    tinted,
    wander,
)


def limewashed(rng: Random, tint: Colour = (243, 238, 226)) -> Wall:
    """Brushed limewash over a hand-floated render: soft white with crossing brush marks."""
    dark = tuple(int(c * 0.90) for c in tint)
    body = clouds(rng, 260, 4)
    colour = tinted(body, (dark[0], dark[1], dark[2]), tint)
    height = sums(lambda a: a["b"] * 5 + a["f"] * 1.6, b=clouds(rng, 330, 3), f=clouds(rng, 24, 3))
    wall = Wall(colour, height)
    for turn, cells in ((0.18, (60, 0.05)), (-0.22, (44, 0.06))):
        brush = noise(rng, *cells).rotate(math.degrees(turn), Image.Resampling.BILINEAR)
        wall.rough(0.55, brush)
        wall.wash((255, 253, 246), sums(lambda a: a["max"](a["b"] - 0.2, 0) * 0.5, b=brush))
    return wall


def rendered(rng: Random, tint: Colour = (206, 191, 164)) -> Wall:
    """Bare lime and sand render, floated: warm grey-buff, sandy, with the sweep of the float."""
    dark = (int(tint[0] * 0.84), int(tint[1] * 0.83), int(tint[2] * 0.80))
    colour = tinted(
        sums(lambda a: a["a"] * 0.7 + a["b"] * 0.5, a=clouds(rng, 240, 4), b=noise(rng, 2.2)), dark, tint
    )
    height = sums(lambda a: a["b"] * 4 + a["g"] * 1.0, b=clouds(rng, 280, 4), g=noise(rng, 2.6))
    wall = Wall(colour, height)
    for _ in range(10):
        x, y, r = rng.uniform(0, 1200), rng.uniform(0, 900), rng.uniform(150, 320)
        turn = rng.uniform(0, 6.28)
        arc = [(x + r * math.cos(turn + n / 12), y + r * 0.8 * math.sin(turn + n / 12)) for n in range(14)]
        wall.push(rng.choice((-1.2, 1.2)), soft(stroked(arc, lambda _: 14), 5))
    return wall


def cob(rng: Random, straw: int = 420) -> Wall:
    """Broken or bare cob: brown subsoil with straw ends, small stones and lumps."""
    colour = tinted(clouds(rng, 120, 6, 0.7), (104, 74, 46), (178, 136, 92), 1.2)
    height = sums(lambda a: a["b"] * 9 + a["c"] * 4, b=clouds(rng, 90, 4, 0.6), c=clouds(rng, 14, 3, 0.7))
    wall = Wall(colour, height)
    _strew_stones(wall, rng, 46)
    _strew_straw(wall, rng, straw)
    return wall


def clay_skim(rng: Random) -> Wall:
    """Clay and chopped straw finish, burnished: ochre and quiet."""
    colour = tinted(clouds(rng, 300, 5), (176, 132, 84), (212, 170, 116))
    wall = Wall(
        colour, sums(lambda a: a["b"] * 5 + a["f"] * 1.2, b=clouds(rng, 300, 3), f=clouds(rng, 12, 2))
    )
    _strew_straw(wall, rng, 260, length=(8, 22), lift_mm=0.5)
    return wall


def adobe(rng: Random) -> Wall:
    """Bare adobe blocks in earth mortar, 360 by 120 mm."""
    wall = Wall(
        tinted(clouds(rng, 80, 5, 0.7), (128, 96, 64), (166, 130, 92)),
        sums(lambda a: a["b"] * 3 - 9, b=clouds(rng, 20, 4, 0.7)),
    )
    outlines = []
    for row in range(-1, 8):
        for column in range(-1, 4):
            x, y = column * 378 + (row % 2) * 189 + rng.uniform(-6, 6), row * 138 + 20 + rng.uniform(-4, 4)
            outlines.append([(x, y), (x + 358, y + rng.uniform(-4, 4)), (x + 358, y + 118), (x, y + 118)])
    _set_blocks(wall, rng, outlines, ((122, 88, 56), (196, 154, 108)), 9)
    _strew_straw(wall, rng, 160)
    return wall


def rammed_earth(rng: Random) -> Wall:
    """Rammed earth in lifts of about 130 mm, each with its own soil and a coarse foot."""
    wall = Wall(Image.new("RGB", SIZE), flat())
    y, grain = -60.0, sums(lambda a: a["a"] * 0.6 + a["b"] * 0.5, a=clouds(rng, 160, 5), b=noise(rng, 3))
    pebbly = clouds(rng, 11, 3, 0.7)
    while y < SIZE[1]:
        tone, deep = rng.uniform(0.86, 1.1), rng.uniform(110, 150)
        band = ragged(
            rng,
            filled([(-40, y), (1240, y + rng.uniform(-6, 6)), (1240, y + deep + 30), (-40, y + deep + 30)]),
            5,
            0.3,
            0.3,
            60,
        )
        wall.lay(
            Wall(
                tinted(
                    grain,
                    (int(150 * tone), int(100 * tone), int(64 * tone)),
                    (int(206 * tone), int(152 * tone), int(104 * tone)),
                ),
                sums(lambda a: a["g"] * 1.4, g=grain),
            ),
            band,
        )
        foot = soft(filled([(0, y + deep - 34), (1200, y + deep - 34), (1200, y + deep), (0, y + deep)]), 12)
        wall.rough(4.0, pebbly, foot)
        wall.darken(0.86, foot)
        y += deep
    return wall


def stone_in_earth(rng: Random, missing: tuple[int, int] | None = None) -> Wall:
    """Field stones bedded in earth; `missing` names the row and place of a stone that has come out."""
    wall = Wall(
        tinted(clouds(rng, 70, 5, 0.7), (112, 84, 56), (160, 124, 86)),
        sums(lambda a: a["b"] * 4 - 14, b=clouds(rng, 24, 4, 0.7)),
    )
    outlines, gap = [], None
    for row in range(7):
        x, place = -rng.uniform(0, 120), 0
        while x < SIZE[0]:
            wide = rng.uniform(130, 300)
            corners = _stone(
                rng, (x + wide / 2, row * 138 + 60 + rng.uniform(-8, 8)), (wide - 20, rng.uniform(112, 130))
            )
            if (row, place) == missing:
                gap = corners
            else:
                outlines.append(corners)
            x, place = x + wide, place + 1
    _set_blocks(wall, rng, outlines, ((116, 114, 110), (204, 198, 184)), 12)
    if gap:
        _hollow_out(wall, rng, gap)
    return wall


def _stone(rng: Random, at: Point, across: Point) -> list[Point]:
    """Return the outline of one squarish stone: a rectangle with its corners knocked off."""
    wide, high = across[0] / 2, across[1] / 2
    outline = []
    for sx, sy in ((1, 1), (-1, 1), (-1, -1), (1, -1)):
        cut_x, cut_y = rng.uniform(0.12, 0.5) * wide, rng.uniform(0.12, 0.4) * high
        pair = [
            (at[0] + sx * wide, at[1] + sy * (high - cut_y)),
            (at[0] + sx * (wide - cut_x), at[1] + sy * high),
        ]
        outline += pair if sx == sy else pair[::-1]
    return outline


def _hollow_out(wall: Wall, rng: Random, outline: list[Point]) -> None:
    """Leave a dark socket where a stone was."""
    gap = ragged(rng, filled(outline), 10, 0.3, 0.2)
    wall.push(-70, gap)
    wall.darken(0.5, soft(gap, 10))


def _set_blocks(
    wall: Wall, rng: Random, outlines: list[list[Point]], tints: tuple[Colour, Colour], lift_mm: float
) -> None:
    """Set stones or blocks into the earth, each with a tone of its own."""
    shape, tone = Image.new("L", SIZE, 0), Image.new("L", SIZE, 128)
    for corners in outlines:
        ImageDraw.Draw(shape).polygon(corners, fill=255)
        ImageDraw.Draw(tone).polygon(corners, fill=rng.randrange(60, 200))
    mask = ragged(rng, as_mask(shape), 5, 0.3, 0.35, 30)
    grain = sums(lambda a: a["c"] * 0.45 + (a["t"] - 0.5) * 2, c=clouds(rng, 60, 5, 0.7), t=as_mask(tone))
    round_off = soft(mask, 9)
    face = Wall(
        tinted(grain, *tints),
        sums(lambda a: a["b"] * 4 + a["r"] * lift_mm - 3, b=clouds(rng, 70, 4, 0.5), r=round_off),
    )
    wall.lay(face, mask)


def _strew_straw(
    wall: Wall, rng: Random, count: int, length: tuple[float, float] = (18, 70), lift_mm: float = 2.4
) -> None:
    """Lay short bright stalks that stand a little proud."""
    grey = Image.new("L", SIZE, 0)
    pen = ImageDraw.Draw(grey)
    for _ in range(count):
        x, y, long, turn = (
            rng.uniform(0, 1200),
            rng.uniform(0, 900),
            rng.uniform(*length),
            rng.gauss(0.2, 0.8),
        )
        stalk = wander(rng, [(x, y), (x + long * math.cos(turn), y + long * math.sin(turn))], 0.12, 2)
        pen.line(stalk, fill=rng.randrange(140, 255), width=rng.choice((2, 2, 3)))
    stalks = as_mask(grey)
    shadow = soft(as_mask(ImageChops.offset(grey, 2, 3)), 1.2)
    wall.darken(0.72, shadow)
    wall.wash((222, 196, 134), stalks, 0.85)
    wall.push(lift_mm, stalks)


def _strew_stones(wall: Wall, rng: Random, count: int) -> None:
    """Bed small stones in the earth."""
    grey = Image.new("L", SIZE, 0)
    pen = ImageDraw.Draw(grey)
    for _ in range(count):
        at, size = (rng.uniform(0, 1200), rng.uniform(0, 900)), rng.uniform(7, 26)
        pen.polygon(blob(rng, at, (size, size * 0.7), 8), fill=255)
    pebbles = as_mask(grey)
    wall.colour.paste(tinted(clouds(rng, 30, 3), (128, 118, 104), (186, 176, 160)), (0, 0), grey)
    wall.push(5, soft(pebbles, 2))
