"""Text as a printed font can show it: what steers or hides is taken out, what has no letter shape gets a readable one."""

import unicodedata
from collections.abc import Collection

# Invisible signs that turn the reading direction, join letters or steer a machine; none of them belongs on paper.
_STEERING = {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}
# For what no font at hand can draw.
UNKNOWN = "?"


def printable(text: str, drawn: Collection[int] | None = None) -> str:
    """Return text for paper; `drawn` holds the code points the font has, None for all.

    Line breaks stay, tabs become blanks, direction marks and controls vanish. A letter without a shape is taken
    apart (an accent goes, the letter stays); what is still unknown prints as "?".
    """
    kept = []
    for sign in unicodedata.normalize("NFC", text.replace("\r\n", "\n").replace("\r", "\n")):
        if sign == "\n":
            kept.append(sign)
        elif sign == "\t" or unicodedata.category(sign) == "Zs":
            kept.append("\u00a0" if sign == "\u00a0" else " ")
        elif unicodedata.category(sign) not in _STEERING:
            kept.append(sign if drawn is None or ord(sign) in drawn else _nearest(sign, drawn))
    return "".join(kept)


def _nearest(sign: str, drawn: Collection[int]) -> str:
    parts = [one for one in unicodedata.normalize("NFKD", sign) if not unicodedata.combining(one)]
    if parts and all(ord(one) in drawn for one in parts):
        return "".join(parts)
    return "" if unicodedata.combining(sign) else UNKNOWN
