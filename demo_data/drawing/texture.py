"""Seeded noise, ragged shapes and slanting light: what every drawn wall is made of.

Heights are float pictures in millimetres, one pixel being one millimetre of wall; masks go from 0 to 1.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from random import Random
from typing import Any

from PIL import Image, ImageChops, ImageDraw, ImageFilter, ImageMath, ImageOps

SIZE = (1200, 900)
Colour = tuple[int, int, int]
Point = tuple[float, float]


def sums(formula: Callable[[dict[str, Any]], Any], **pictures: Image.Image) -> Image.Image:
    """Reckon a new picture from others, pixel by pixel."""
    picture: Image.Image = ImageMath.lambda_eval(formula, **pictures)
    return picture


def flat(value: float = 0.0) -> Image.Image:
    """Return a float picture of one value."""
    return Image.new("F", SIZE, value)


def as_grey(mask: Image.Image) -> Image.Image:
    """Turn a 0 to 1 float mask into an 8-bit one, as pasting needs it."""
    return sums(lambda a: a["convert"](a["min"](a["max"](a["m"] * 255 + 0.5, 0), 255), "L"), m=mask)


def as_mask(grey: Image.Image) -> Image.Image:
    """Turn an 8-bit picture into a 0 to 1 float mask."""
    return sums(lambda a: a["g"] / 255.0, g=grey.convert("F"))


def soft(mask: Image.Image, radius: float) -> Image.Image:
    """Blur a mask."""
    return as_mask(as_grey(mask).filter(ImageFilter.GaussianBlur(radius)))


def noise(rng: Random, cell: float, stretch: float = 1.0) -> Image.Image:
    """Return smooth noise from -1 to 1 with lumps about `cell` wide and `cell * stretch` high."""
    wide, high = math.ceil(SIZE[0] / cell) + 3, math.ceil(SIZE[1] / (cell * stretch)) + 3
    grain = Image.frombytes("L", (wide, high), rng.randbytes(wide * high)).convert("F")
    box = (rng.random(), rng.random(), 1 + SIZE[0] / cell, 1 + SIZE[1] / (cell * stretch))
    smooth = grain.resize(SIZE, Image.Resampling.BICUBIC, box)
    return sums(lambda a: (a["n"] - 127.5) / 127.5, n=smooth)


def clouds(rng: Random, cell: float, octaves: int, fall: float = 0.55, stretch: float = 1.0) -> Image.Image:
    """Return noise upon finer noise, about -1 to 1."""
    total, share, whole = flat(), 1.0, 0.0
    for _ in range(octaves):
        layer = noise(rng, max(cell, 1.0), stretch)
        total = sums(lambda a, s=share: a["t"] + a["n"] * s, t=total, n=layer)  # type: ignore[misc]
        whole, cell, share = whole + share, cell / 2, share * fall
    return sums(lambda a: a["t"] * (1.5 / whole), t=total)


def tinted(grain: Image.Image, dark: Colour, light: Colour, spread: float = 1.0) -> Image.Image:
    """Colour a picture of noise between two tints; `spread` widens the noise first."""
    grey = as_grey(sums(lambda a: a["g"] * (0.5 * spread) + 0.5, g=grain))
    return ImageOps.colorize(grey, dark, light)


def filled(points: Sequence[Point]) -> Image.Image:
    """Return the mask of one outline."""
    grey = Image.new("L", SIZE, 0)
    ImageDraw.Draw(grey).polygon([(round(x), round(y)) for x, y in points], fill=255)
    return as_mask(grey)


def blob(rng: Random, at: Point, across: Point, corners: int = 14) -> list[Point]:
    """Return an uneven outline round a point, `across` wide and high."""
    outline = []
    for n in range(corners):
        turn, reach = 2 * math.pi * n / corners, rng.uniform(0.72, 1.12) / 2
        outline.append(
            (at[0] + across[0] * reach * math.cos(turn), at[1] + across[1] * reach * math.sin(turn))
        )
    return outline


def ragged(
    rng: Random,
    mask: Image.Image,
    blur: float = 22,
    rough: float = 0.55,
    edge: float = 0.08,
    cell: float = 70,
) -> Image.Image:
    """Break up the edge of a mask, as plaster breaks; `edge` is the softness left."""
    torn = clouds(rng, cell, 5, 0.6)
    return sums(
        lambda a: a["min"](a["max"]((a["m"] + a["t"] * rough * 0.5 - 0.5) / edge + 0.5, 0), 1),
        m=soft(mask, blur),
        t=torn,
    )


def wander(rng: Random, path: Sequence[Point], sway: float, steps: int = 5) -> list[Point]:
    """Bend a path by halving each piece and pushing its middle aside, `steps` times."""
    points = list(path)
    for _ in range(steps):
        bent = [points[0]]
        for a, b in pairwise(points):
            push = rng.uniform(-sway, sway) * math.dist(a, b)
            along = math.atan2(b[1] - a[1], b[0] - a[0]) + math.pi / 2
            bent += [
                ((a[0] + b[0]) / 2 + push * math.cos(along), (a[1] + b[1]) / 2 + push * math.sin(along)),
                b,
            ]
        points = bent
    return points


def stroked(path: Sequence[Point], width: Callable[[float], float]) -> Image.Image:
    """Return the mask of a line whose width follows `width(part of the way)`."""
    grey = Image.new("L", (SIZE[0] * 2, SIZE[1] * 2), 0)
    pen = ImageDraw.Draw(grey)
    for n, (a, b) in enumerate(pairwise(path)):
        wide = max(1, round(2 * width(n / len(path))))
        pen.line([(2 * a[0], 2 * a[1]), (2 * b[0], 2 * b[1])], fill=255, width=wide)
        if wide > 3:
            pen.ellipse(
                [2 * b[0] - wide / 2, 2 * b[1] - wide / 2, 2 * b[0] + wide / 2, 2 * b[1] + wide / 2], fill=255
            )
    return as_mask(grey.resize(SIZE, Image.Resampling.BOX))


@dataclass
class Wall:
    """A piece of wall seen square on: its colour, and how far each point stands out in millimetres."""

    colour: Image.Image
    height: Image.Image

    def lay(self, other: "Wall", mask: Image.Image) -> None:
        """Show another wall within the mask."""
        self.colour.paste(other.colour, (0, 0), as_grey(mask))
        self.height = sums(
            lambda a: a["h"] + (a["o"] - a["h"]) * a["m"], h=self.height, o=other.height, m=mask
        )

    def push(self, by_mm: float, mask: Image.Image) -> None:
        """Move the surface in (less than nought) or out within the mask."""
        self.height = sums(lambda a: a["h"] + a["m"] * by_mm, h=self.height, m=mask)

    def rough(self, by_mm: float, grain: Image.Image, mask: Image.Image | None = None) -> None:
        """Add the relief of a picture of noise within the mask."""
        self.height = sums(
            lambda a: a["h"] + a["g"] * a["m"] * by_mm, h=self.height, g=grain, m=mask or flat(1.0)
        )

    def wash(self, colour: Colour, mask: Image.Image, strength: float = 1.0) -> None:
        """Tint the surface towards a colour within the mask."""
        self.colour.paste(colour, (0, 0, *SIZE), as_grey(sums(lambda a: a["m"] * strength, m=mask)))

    def darken(self, factor: float, mask: Image.Image) -> None:
        """Multiply the colour by up to `factor` within the mask, as water does."""
        grey = as_grey(sums(lambda a: 1 - a["m"] * (1 - factor), m=mask))
        self.colour = ImageChops.multiply(self.colour, grey.convert("RGB"))

    def below(self, depth_mm: float) -> "Wall":
        """Return the same wall set back."""
        return Wall(self.colour, sums(lambda a: a["h"] - depth_mm, h=self.height))


def cast_shadow(
    height: Image.Image, per_step: tuple[int, int], fall_mm: float, steps: int = 16
) -> Image.Image:
    """Return where higher ground towards the light keeps the sun off, 0 to 1.

    `per_step` points to the light in pixels; the light comes down `fall_mm` in each step.
    """
    top = sums(lambda a: a["h"] - 500.0, h=height)
    moved = height
    for n in range(1, steps + 1):
        moved = ImageChops.offset(height, -per_step[0] * n, -per_step[1] * n)
        top = sums(lambda a, down=n * fall_mm: a["max"](a["t"], a["o"] - down), t=top, o=moved)  # type: ignore[misc]
    return sums(lambda a: a["min"](a["max"]((a["t"] - a["h"] - 0.6) / 3.0, 0), 1), t=top, h=height)


def lit(wall: Wall, rng: Random, low: float = 1.0) -> Image.Image:
    """Return the wall under slanting daylight: shaded slopes (more with `low`), cast shadows, grain."""
    towards = (-2, -2)
    lifted = ImageChops.offset(wall.height, -towards[0], -towards[1])
    shade = as_grey(
        sums(
            lambda a: 0.5 + a["min"](a["max"]((a["h"] - a["u"]) * (0.062 * low), -0.40), 0.22),
            h=wall.height,
            u=lifted,
        )
    )
    picture = ImageChops.hard_light(wall.colour, shade.convert("RGB"))
    dark = _without_wrap(soft(cast_shadow(wall.height, towards, 1.55), 0.9))
    cool = Image.composite(
        Image.new("RGB", SIZE, (98, 100, 118)), Image.new("RGB", SIZE, (255, 255, 255)), as_grey(dark)
    )
    picture = ImageChops.multiply(picture, cool)
    slope = sums(lambda a: 0.5 + a["x"] * 0.06 + a["n"] * 0.03, x=_across(), n=noise(rng, 500))
    picture = ImageChops.overlay(picture, as_grey(slope).convert("RGB"))
    grain = as_grey(sums(lambda a: 0.5 + a["n"] * 0.012, n=noise(rng, 1.6)))
    whole = ImageChops.overlay(picture, grain.convert("RGB")).filter(ImageFilter.GaussianBlur(0.7))
    return whole.crop((4, 4, SIZE[0] - 4, SIZE[1] - 4))


def _across() -> Image.Image:
    """Return a picture that falls from 1 at the left edge to -1 at the right."""
    ramp = Image.linear_gradient("L").rotate(90).resize(SIZE).convert("F")
    return sums(lambda a: (127.5 - a["r"]) / 127.5, r=ramp)


def downward() -> Image.Image:
    """Return a picture that rises from 0 at the top to 1 at the foot."""
    return as_mask(Image.linear_gradient("L").resize(SIZE))


def _without_wrap(mask: Image.Image) -> Image.Image:
    """Blank a narrow frame, where shifted pictures come round from the other side."""
    frame = Image.new("L", SIZE, 0)
    ImageDraw.Draw(frame).rectangle([26, 34, SIZE[0] - 26, SIZE[1]], fill=255)
    return sums(lambda a: a["m"] * a["f"], m=mask, f=soft(as_mask(frame), 8))
