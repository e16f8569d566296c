"""Water, salts, stains and growth: changes of colour, and crusts."""

import math
from random import Random

from PIL import Image, ImageDraw

from .texture import (
    SIZE,
    Wall,
    as_mask,
    blob,
    clouds,
    downward,
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
from .walls import cob


def damp_patch(wall: Wall, rng: Random, from_above: bool = False, rise_mm: float = 0) -> None:
    """Damp patch: dark and wet-looking, with an older tide mark outside it."""
    outline = [
        (-60, 960),
        (-60, 520),
        (180, 400),
        (420, 440),
        (640, 300),
        (880, 380),
        (1060, 470),
        (1280, 440),
        (1280, 960),
    ]
    outline = [(x, y - rise_mm if y < 900 else y) for x, y in outline]
    if from_above:
        outline = [(x, 900 - y) for x, y in outline]
    wet = ragged(rng, filled(outline), 46, 0.5, 0.35, 200)
    old = ragged(rng, soft(wet, 46), 10, 0.3, 0.3, 120)
    outer = sums(lambda a: a["max"](a["min"](a["o"] * 3, 1) - a["w"], 0), o=soft(old, 14), w=wet)
    wall.darken(0.90, sums(lambda a: a["min"](a["o"], 1), o=outer))
    for mask, strength in ((wet, 0.55), (old, 0.4)):
        rim = sums(lambda a: a["m"] * (1 - a["m"]) * 4, m=soft(mask, 7))
        wall.wash((120, 92, 56), rim, strength)
    wall.darken(0.60, sums(lambda a: a["w"] * (0.85 + a["n"] * 0.15), w=wet, n=clouds(rng, 180, 4)))
    wall.wash((96, 104, 92), wet, 0.10)


def staining(wall: Wall, rng: Random) -> None:
    """Staining: rust runs below an iron bracket, whole surface."""
    total = flat()
    for _ in range(34):
        x, long = rng.gauss(590, 60), rng.uniform(220, 900)
        strength = rng.uniform(0.2, 0.5)
        run = stroked(
            wander(rng, [(x, 210), (x + rng.uniform(-30, 30), 210 + long)], 0.03, 4),
            lambda part: rng.uniform(6, 13) * (1 - 0.5 * part),
        )
        total = sums(lambda a, s=strength: a["t"] + a["r"] * s, t=total, r=soft(run, 5))  # type: ignore[misc]
    fade = sums(lambda a: a["min"](a["t"], 1) * (1.12 - a["d"]), t=soft(total, 3), d=downward())
    wall.wash((146, 72, 26), fade, 0.85)
    iron = filled([(430, 150), (770, 150), (770, 214), (430, 214)])
    wall.lay(Wall(tinted(clouds(rng, 40, 4, 0.7), (52, 34, 26), (138, 78, 44)), flat(34)), iron)


def efflorescence(wall: Wall, rng: Random) -> None:
    """Efflorescence: white fluff in a wavering band above a damp foot."""
    low = filled([(-60, 960), (-60, 640), (400, 600), (800, 660), (1280, 610), (1280, 960)])
    wet = ragged(rng, low, 40, 0.5, 0.4, 160)
    wall.darken(0.66, wet)
    belt = soft(
        filled(
            [(-60, 380), (300, 340), (700, 420), (1280, 360), (1280, 740), (800, 760), (300, 720), (-60, 760)]
        ),
        60,
    )
    fluff = sums(
        lambda a: a["min"](a["max"]((a["c"] * 0.8 + a["b"] * 0.9 - 0.72) / 0.22, 0), 1),
        c=clouds(rng, 90, 6, 0.72),
        b=belt,
    )
    wall.wash((252, 252, 250), fluff, 0.95)
    wall.rough(5, clouds(rng, 9, 3, 0.8), fluff)
    wall.push(2.5, fluff)


def salt_scabs(wall: Wall, rng: Random, under: Wall) -> None:
    """Salt scabs: blisters of skin, some burst, with powder inside and below."""
    whole, burst = Image.new("L", SIZE, 0), Image.new("L", SIZE, 0)
    for _ in range(26):
        at, size = (rng.gauss(600, 260), rng.gauss(480, 170)), rng.uniform(50, 150)
        ring = blob(rng, at, (size, size * rng.uniform(0.7, 1)), 10)
        ImageDraw.Draw(whole).polygon(ring, fill=255)
        if rng.random() < 0.6:
            inner = blob(rng, (at[0] + rng.uniform(-9, 9), at[1]), (size * 0.66, size * 0.6), 9)
            ImageDraw.Draw(burst).polygon(inner, fill=255)
    wall.push(15, soft(as_mask(whole), 12))
    gap = ragged(rng, as_mask(burst), 6, 0.6, 0.1, 24)
    powder = soft(as_mask(burst).rotate(0, translate=(0, 34)), 16)
    wall.lay(under.below(8), gap)
    salt = sums(
        lambda a: a["g"] * a["min"](a["max"](a["c"] * 1.2 + 0.45, 0), 1), g=gap, c=clouds(rng, 20, 4, 0.8)
    )
    wall.wash((250, 250, 248), salt, 0.9)
    wall.wash(
        (248, 247, 242), sums(lambda a: a["p"] * (0.45 + a["n"] * 0.3), p=powder, n=clouds(rng, 12, 3)), 0.8
    )


def growth(wall: Wall, rng: Random, moss: bool = True) -> None:
    """Growth: green film from a wet top, cushions of moss; after brushing, a ghost of the film."""
    left = 1.0 if moss else 0.35
    film = sums(
        lambda a: a["min"](a["max"](1.05 - a["d"] * 1.7 + a["r"] * 0.35 + a["c"] * 0.35, 0), 1),
        d=downward(),
        r=noise(rng, 50, 8),
        c=clouds(rng, 140, 5),
    )
    wall.wash((74, 92, 50), film, 0.72 * left)
    wall.wash((44, 50, 34), sums(lambda a: a["max"](a["f"] - 0.6, 0) * 1.4, f=film), 0.6 * left)
    if not moss:
        return
    cushions = Image.new("L", SIZE, 0)
    for _ in range(58):
        x, y, size = rng.uniform(-20, 1220), abs(rng.gauss(0, 200)), rng.uniform(30, 120)
        ImageDraw.Draw(cushions).polygon(blob(rng, (x, y), (size * 1.3, size), 9), fill=255)
    heads = ragged(rng, as_mask(cushions), 8, 0.8, 0.2, 30)
    furry = clouds(rng, 13, 4, 0.85)
    shape = sums(lambda a: a["h"] + a["s"] * 22 + a["f"] * 7, h=wall.height, s=soft(heads, 12), f=furry)
    wall.lay(Wall(tinted(furry, (48, 58, 26), (138, 144, 72)), shape), heads)


def lichen(wall: Wall, rng: Random) -> None:
    """Growth: round crusts of lichen, orange and grey."""
    for tint in ((214, 150, 40), (176, 182, 160)):
        grey = Image.new("L", SIZE, 0)
        for _ in range(30):
            size = rng.uniform(24, 110)
            at = (rng.uniform(80, 1120), rng.uniform(60, 840))
            ImageDraw.Draw(grey).polygon(blob(rng, at, (size, size), 12), fill=255)
        crust = ragged(rng, as_mask(grey), 6, 0.9, 0.15, 22)
        wall.wash(tint, sums(lambda a: a["c"] * (0.7 + a["n"] * 0.3), c=crust, n=clouds(rng, 14, 3)), 0.9)
        wall.rough(3, clouds(rng, 8, 3, 0.8), crust)


def soil(rng: Random) -> Wall:
    """Trodden ground at the wall foot."""
    ground = cob(rng, 90)
    ground.darken(0.62, flat(1.0))
    grass = Image.new("L", SIZE, 0)
    for _ in range(900):
        x, y, turn = rng.uniform(0, 1200), rng.uniform(790, 930), rng.gauss(-math.pi / 2, 0.5)
        ImageDraw.Draw(grass).line(
            [(x, y), (x + 46 * math.cos(turn), y + 46 * math.sin(turn))], fill=220, width=2
        )
    ground.wash((98, 118, 58), as_mask(grass), 0.9)
    return ground
