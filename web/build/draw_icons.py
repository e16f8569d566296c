"""Draw the app's icons: a dome with one hatched patch and a tick. Run it again after a change: python web/build/draw_icons.py."""

from pathlib import Path

from PIL import Image, ImageDraw

PUBLIC = Path(__file__).resolve().parent.parent / "public"
LIME, WALL, INK, CLAY, SAGE = "#f8f5ee", "#e4d6bf", "#211d18", "#7a3115", "#2f4d2b"
# Everything on a 100 x 100 sheet; a maskable icon keeps to the inner 80 % circle.
DOME = [
    (18, 82),
    (19, 66),
    (23, 51),
    (31, 36),
    (41, 25),
    (50, 18),
    (59, 25),
    (69, 36),
    (77, 51),
    (81, 66),
    (82, 82),
]
PATCH = [(30, 54), (44, 48), (52, 58), (47, 72), (33, 72)]
HATCH = [((31, 60), (42, 49)), ((31, 69), (48, 52)), ((36, 72), (51, 57)), ((43, 72), (49, 66))]
TICK = [(55, 62), (61, 69), (71, 53)]


def draw(side_px: int, inset: float) -> Image.Image:
    """Return the icon at four times its size, shrunk, with `inset` of the sheet left free all round."""
    big = side_px * 4
    sheet = Image.new("RGB", (big, big), LIME)
    pen = ImageDraw.Draw(sheet)

    def at(points: list[tuple[float, float]]) -> list[tuple[float, float]]:
        scale = big * (1 - 2 * inset) / 100
        return [(big * inset + x * scale, big * inset + y * scale) for x, y in points]

    width = round(big * 0.028 * (1 - 2 * inset))
    pen.polygon(at(DOME), fill=WALL)
    pen.line(at([*DOME, DOME[0], DOME[1]]), fill=INK, width=width, joint="curve")
    for stroke in HATCH:
        pen.line(at(list(stroke)), fill=CLAY, width=width // 2)
    pen.line(at([*PATCH, PATCH[0], PATCH[1]]), fill=CLAY, width=width, joint="curve")
    pen.line(at(TICK), fill=SAGE, width=width * 2, joint="curve")
    return sheet.resize((side_px, side_px), Image.Resampling.LANCZOS)


def svg(glare: bool = False) -> str:
    """Return the same drawing as SVG; for glare black on white, with bolder lines."""
    ground, wall, ink, clay, sage = ("#ffffff", "#ffffff", *("#000000",) * 3) if glare else (LIME, WALL, INK, CLAY, SAGE)
    line = 4.4 if glare else 2.8

    def path(points: list[tuple[float, float]]) -> str:
        return "M" + "L".join(f"{x} {y}" for x, y in points)

    hatch = "".join(path(list(stroke)) for stroke in HATCH)
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100" stroke-linejoin="round" stroke-linecap="round">'
        f'<rect width="100" height="100" rx="18" fill="{ground}"/>'
        f'<path d="{path(DOME)}Z" fill="{wall}" stroke="{ink}" stroke-width="{line}"/>'
        f'<path d="{hatch}" fill="none" stroke="{clay}" stroke-width="{line / 1.75:g}"/>'
        f'<path d="{path(PATCH)}Z" fill="none" stroke="{clay}" stroke-width="{line}"/>'
        f'<path d="{path(TICK)}" fill="none" stroke="{sage}" stroke-width="{line * 2:g}"/></svg>\n'
    )


def main() -> None:
    """Write every icon the manifest and the page name."""
    for name, side, inset in [
        ("icon-180", 180, 0.02),
        ("icon-192", 192, 0.0),
        ("icon-512", 512, 0.0),
        ("icon-maskable-512", 512, 0.12),
    ]:
        draw(side, inset).save(PUBLIC / f"{name}.png", optimize=True)
    (PUBLIC / "icon.svg").write_text(svg(), encoding="utf-8")
    (PUBLIC / "icon-glare.svg").write_text(svg(glare=True), encoding="utf-8")


if __name__ == "__main__":
    main()
