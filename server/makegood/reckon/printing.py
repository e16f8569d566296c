"""Answers as JSON text: short parts on one line, numbers to twelve digits, never NaN or infinite."""

import json
import math
from collections.abc import Mapping

from makegood.errors import BadInput

WIDTH = 170
DIGITS = 12
_INDENT = "  "


def written(answer: object) -> str:
    """Return an answer as JSON text; refuses a sum that ran out of the range of numbers."""
    return _broken(_rounded(answer), "")


def _rounded(value: object) -> object:
    if isinstance(value, float):
        if not math.isfinite(value):
            say = "These numbers are too large or too small to reckon with; check their units."
            raise BadInput("out_of_range", say)
        return float(f"{value:.{DIGITS}g}") + 0.0
    if isinstance(value, Mapping):
        return {key: _rounded(one) for key, one in value.items()}
    if isinstance(value, list | tuple):
        return [_rounded(one) for one in value]
    return value


def _broken(value: object, margin: str) -> str:
    line = json.dumps(value, ensure_ascii=False)
    inner = margin + _INDENT
    if len(margin) + len(line) <= WIDTH or not value:
        return line
    if isinstance(value, dict):
        rows = [f"{json.dumps(key, ensure_ascii=False)}: {_broken(one, inner)}" for key, one in value.items()]
        return "{\n" + inner + f",\n{inner}".join(rows) + f"\n{margin}}}"
    if isinstance(value, list):
        return "[\n" + inner + f",\n{inner}".join(_broken(one, inner) for one in value) + f"\n{margin}]"
    return line
