"""The pictures of the demo site: which wall, what is wrong with it, how the light falls.

A scene is named after the defect it shows; a second look or a mended place starts from the same seed, so that
it shows the same piece of wall.
"""

from collections.abc import Callable
from random import Random

from PIL import Image

from . import damage_crack as crack
from . import damage_damp as damp
from . import damage_loss as loss
from . import walls
from .picture import add_stick
from .texture import Point, Wall, blob, lit

Base = Callable[[Random], Wall]
Damage = Callable[[Wall, Random], object]
Scene = tuple[Base, Damage]

WHITE, BUFF, FRESH = (243, 238, 226), (206, 191, 164), (228, 218, 198)


def _white(rng: Random) -> Wall:
    return walls.limewashed(rng, WHITE)


def _cream(rng: Random) -> Wall:
    return walls.limewashed(rng, (238, 222, 188))


def _buff(rng: Random) -> Wall:
    return walls.rendered(rng, BUFF)


def _fresh(rng: Random) -> Wall:
    return walls.rendered(rng, FRESH)


def _socket(rng: Random) -> Wall:
    return walls.stone_in_earth(rng, (3, 1))


def _capped(wall: Wall, rng: Random) -> None:
    loss.washout(wall, rng, walls.cob(rng), 120, 40)
    loss.below_cap(wall, rng, walls.rendered(rng, (176, 172, 160)))


def _patch(outline: list[Point] | None = None, fresh: Base = _fresh) -> Damage:
    """Return a mended place; without an outline, one round the middle."""

    def mend(wall: Wall, rng: Random) -> None:
        loss.patched(wall, rng, fresh(rng), outline or blob(rng, (590, 440), (760, 540), 7))

    return mend


SCENES: dict[str, Scene] = {
    "spalling_cob": (_white, lambda w, r: loss.spalling(w, r, walls.cob(r))),
    "spalling_cob_mended": (_white, _patch()),
    "spalling_rammed": (_cream, lambda w, r: loss.spalling(w, r, walls.rammed_earth(r), 0.8)),
    "spalling_adobe": (_cream, lambda w, r: loss.spalling(w, r, walls.adobe(r))),
    "spalling_adobe_mended": (_cream, _patch()),
    "spalling_adobe_again": (_cream, lambda w, r: loss.spalling(w, r, walls.adobe(r), 1.35)),
    "crazing": (_buff, crack.crazing),
    "crazing_panel": (_fresh, lambda w, r: crack.crazing(w, r, 96)),
    "crazing_crown": (_cream, lambda w, r: crack.crazing(w, r, 58)),
    "washout": (_buff, lambda w, r: loss.washout(w, r, walls.cob(r), 110, 40)),
    "washout_filled": (
        _buff,
        lambda w, r: loss.filled_line(w, r, _fresh(r), [(560, -20), (600, 240), (560, 520), (640, 920)], 190),
    ),
    "washout_again": (_buff, lambda w, r: loss.washout(w, r, walls.cob(r), 190, 70)),
    "washout_rammed": (_cream, lambda w, r: loss.washout(w, r, walls.rammed_earth(r), 130, 45)),
    "washout_dome": (_cream, lambda w, r: loss.washout(w, r, walls.adobe(r), 120, 40)),
    "washout_cap": (walls.stone_in_earth, _capped),
    "damp_foot": (_white, damp.damp_patch),
    "damp_foot_grown": (_white, lambda w, r: damp.damp_patch(w, r, rise_mm=150)),
    "damp_splash": (_cream, damp.damp_patch),
    "rust": (_white, damp.staining),
    "hairline": (_white, crack.hairline),
    "hairline_dome": (_cream, crack.hairline),
    "missing_cob": (_white, lambda w, r: loss.missing_render(w, r, walls.cob(r))),
    "missing_cob_mended": (
        _white,
        _patch([(170, 930), (220, 330), (420, 220), (860, 230), (1040, 420), (1090, 930)]),
    ),
    "missing_adobe": (_cream, lambda w, r: loss.missing_render(w, r, walls.adobe(r))),
    "missing_adobe_mended": (
        _cream,
        _patch([(170, 930), (220, 330), (420, 220), (860, 230), (1040, 420), (1090, 930)]),
    ),
    "delamination": (_white, lambda w, r: crack.delamination(w, r, _buff(r), walls.cob(r))),
    "delamination_grown": (_white, lambda w, r: crack.delamination(w, r, _buff(r), walls.cob(r), 1.3)),
    "delamination_dome": (_cream, lambda w, r: crack.delamination(w, r, _buff(r), walls.adobe(r), 1.1)),
    "flaking_panel": (_white, lambda w, r: crack.flaking(w, r, _buff(r), 0.5)),
    "flaking_panel_grown": (_white, lambda w, r: crack.flaking(w, r, _buff(r), 3.0)),
    "flaking_dome": (_cream, lambda w, r: crack.flaking(w, r, _buff(r))),
    "erosion_cob": (_buff, lambda w, r: loss.erosion(w, r, walls.cob(r))),
    "erosion_rammed": (_cream, lambda w, r: loss.erosion(w, r, walls.rammed_earth(r))),
    "erosion_rammed_mended": (_cream, _patch([(120, 180), (1090, 150), (1110, 700), (140, 740)])),
    "erosion_clay": (walls.clay_skim, lambda w, r: loss.erosion(w, r, walls.cob(r, 900))),
    "hollow": (_white, crack.hollow),
    "hollow_mended": (_white, _patch()),
    "moss": (_buff, damp.growth),
    "moss_cleared": (_buff, lambda w, r: damp.growth(w, r, moss=False)),
    "lichen": (walls.rammed_earth, damp.lichen),
    "efflorescence": (_buff, damp.efflorescence),
    "salt_scabs": (_white, lambda w, r: damp.salt_scabs(w, r, _buff(r))),
    "bee_holes": (walls.cob, loss.holes),
    "bee_holes_more": (walls.cob, lambda w, r: loss.holes(w, r, 84)),
    "undercut": (_white, lambda w, r: loss.undercut(w, r, walls.cob(r), damp.soil(r))),
    "undercut_dome": (_cream, lambda w, r: loss.undercut(w, r, walls.adobe(r), damp.soil(r))),
    "crack": (_buff, lambda w, r: crack.structural(w, r, 9)),
    "crack_wider": (_buff, lambda w, r: crack.structural(w, r, 17)),
    "exposed_rammed": (_cream, lambda w, r: loss.exposed(w, r, walls.rammed_earth(r))),
    "exposed_straw": (walls.clay_skim, lambda w, r: loss.exposed(w, r, walls.cob(r, 1500))),
    "exposed_straw_mended": (walls.clay_skim, _patch(fresh=walls.clay_skim)),
    "bulge": (_cream, crack.bulge),
    "lean": (walls.rammed_earth, lambda w, r: None),
    "loose_stone": (_socket, lambda w, r: None),
    "loose_stone_mended": (walls.stone_in_earth, lambda w, r: None),
}
PORTRAIT = {"washout", "washout_again", "crack"}


def drawn(name: str) -> Image.Image:
    """Draw one scene; the same name gives the same picture."""
    stem = name
    for ending in ("_mended", "_grown", "_again", "_more", "_wider", "_filled", "_cleared"):
        stem = stem.removesuffix(ending)
    rng = Random(f"wrackholm {stem}")
    base, damage = SCENES[name]
    wall = base(rng)
    damage(wall, rng)
    picture = lit(wall, rng, low=1.6 if stem == "bulge" else 1.0)
    if name in PORTRAIT:
        picture = picture.crop((246, 0, 246 + 669, picture.height))
    if stem == "lean":
        crack.lean(picture)
    else:
        add_stick(picture, rng, (rng.choice((50, picture.width - 560)), 816))
    return picture
