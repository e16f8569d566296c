"""The pictures of the guide: a screen with its lines, the one to tap ringed, drawn in SVG that needs no script and no style."""

from html import escape

from makegood.lan.words import Step

_WIDE, _HEAD, _LINE, _LETTERS = 290, 46, 46, 27
_INK, _SOFT, _PAPER, _CLAY, _WASH, _EDGE = "#211d18", "#50483c", "#fffdf8", "#83361a", "#f4e4d9", "#857a69"
_FONT = "system-ui,'Segoe UI',Roboto,'Noto Sans','DejaVu Sans',sans-serif"


def draw(step: Step, tap_here: str) -> str:
    """Return the picture of one step; what it shows is also read out, as its name."""
    tall = _HEAD + _LINE * len(step.lines) + 22
    told = escape(f"{step.screen}: {', '.join(step.lines)}. {tap_here}: {step.lines[step.tap]}", quote=True)
    lines = "".join(_line(n, text, n == step.tap) for n, text in enumerate(step.lines))
    return (
        f'<svg viewBox="0 0 {_WIDE} {tall}" role="img" aria-label="{told}" font-family="{_FONT}">'
        f'<rect x="2" y="2" width="{_WIDE - 4}" height="{tall - 4}" rx="16" fill="{_PAPER}" stroke="{_INK}" stroke-width="3"/>'
        f'<text x="18" y="31" font-size="15" font-weight="700" fill="{_INK}">{escape(_short(step.screen))}</text>'
        f'<path d="M3.5 {_HEAD - 4}H{_WIDE - 3.5}" stroke="{_EDGE}"/>{lines}</svg>'
    )


def _line(n: int, text: str, is_tapped: bool) -> str:
    top = _HEAD + n * _LINE
    words = f'<text x="20" y="{top + 28}" font-size="14" {{}}>{escape(_short(text))}</text>'
    if not is_tapped:
        return words.format(f'fill="{_SOFT}"')
    ring = (
        f'<rect x="10" y="{top + 3}" width="{_WIDE - 20}" height="{_LINE - 6}" rx="10" fill="{_WASH}" stroke="{_CLAY}" '
        'stroke-width="3"/>'
    )
    # A finger, pointing from below at the end of the line.
    finger = (
        f'<path d="M{_WIDE - 36} {top + 56}v-22a6 6 0 0 1 12 0v24" fill="{_PAPER}" stroke="{_CLAY}" stroke-width="2.5" '
        'stroke-linecap="round"/>'
    )
    return ring + words.format(f'fill="{_INK}" font-weight="700"') + finger


def _short(text: str) -> str:
    return text if len(text) <= _LETTERS else f"{text[: _LETTERS - 1].rstrip()}…"
