"""Send seeded, damaged pictures to a server and print what it did: `python -m tests.faults.bent_images COUNT SEED`.

Runs in a process of its own, so that the most memory it ever held can be read at the end.
"""

import io
import json
import random
import re
import struct
import sys
import tempfile
import time
import zlib
from collections import Counter
from collections.abc import Callable
from pathlib import Path

import pillow_heif
from PIL import Image

from makegood.app import bring_up_to_date, create_app
from makegood.settings import Settings
from tests.api.test_photos import Sending, picture
from tests.make import make_grounds
from tests.reference import camera_files


def sound_pictures() -> list[bytes]:
    """Return pictures of every kind taken, and camera files where they are installed."""
    pillow_heif.register_heif_opener()
    heic = io.BytesIO()
    Image.effect_noise((96, 64), 40).convert("RGB").save(heic, "HEIF")
    palette = io.BytesIO()
    Image.effect_noise((1200, 900), 40).convert("P").save(palette, "PNG")
    made = [
        picture(size=(1600, 1200)),
        picture(size=(320, 240)),
        picture("PNG", (640, 480)),
        heic.getvalue(),
        palette.getvalue(),
    ]
    cameras = [path.read_bytes() for path in camera_files.photos() + camera_files.damaged_photos()]
    return made * (1 + len(cameras) // len(made)) + cameras


def flip(content: bytes, chance: random.Random) -> bytes:
    """Change a few bytes, the first two kilobytes (where the headers are) more often."""
    bent = bytearray(content)
    for _ in range(chance.choice((1, 3, 20, 200))):
        at = chance.randrange(min(2048, len(bent)) if chance.random() < 0.7 else len(bent))
        bent[at] = chance.randrange(256)
    return bytes(bent)


def cut(content: bytes, chance: random.Random) -> bytes:
    """Keep only the beginning."""
    return content[: chance.randrange(1, len(content))]


def double(content: bytes, chance: random.Random) -> bytes:
    """Put a piece in twice, or take it out."""
    start = chance.randrange(len(content))
    end = min(len(content), start + chance.randrange(1, 4096))
    return content[:end] + content[start:] if chance.random() < 0.5 else content[:start] + content[end:]


def swell(_content: bytes, chance: random.Random) -> bytes:
    """Return a small PNG that unpacks to very much: pixels, or text."""

    def part(name: bytes, body: bytes) -> bytes:
        return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))

    side = chance.choice((7000, 20_000, 50_000, 2**31 - 1))
    head = struct.pack(">IIBBBBB", side, side, 8, chance.choice((0, 2, 3, 6)), 0, 0, 0)
    text = (
        part(b"zTXt", b"Comment\0\0" + zlib.compress(bytes(20_000_000), 9)) if chance.random() < 0.5 else b""
    )
    pixels = part(b"IDAT", zlib.compress(bytes(4_000_000), 9))
    noise = part(b"tEXt", b"n\0" + str(chance.random()).encode())
    return b"\x89PNG\r\n\x1a\n" + part(b"IHDR", head) + noise + text + pixels + part(b"IEND", b"")


def stretch(content: bytes, chance: random.Random) -> bytes:
    """Have a JPEG claim another size: its frame header says how many pixels come."""
    at = max(content.find(b"\xff\xc0"), content.find(b"\xff\xc2"))
    if at < 0:
        return flip(content, chance)
    size = struct.pack(">HH", chance.choice((0, 7000, 65_500)), chance.choice((1, 7000, 65_500)))
    return content[: at + 5] + size + content[at + 9 :]


BENDS: list[Callable[[bytes, random.Random], bytes]] = [flip, flip, flip, cut, cut, double, swell, stretch]


def main(count: int, seed: int) -> None:
    """Send so many pictures; print one JSON line."""
    with tempfile.TemporaryDirectory(prefix="makegood-bent-") as folder:
        send(Path(folder), count, seed)


def send(folder: Path, count: int, seed: int) -> None:
    """Send to a server on a folder of its own."""
    chance = random.Random(seed)
    pictures = sound_pictures()
    app = create_app(Settings(data=folder))
    bring_up_to_date(app)
    grounds = make_grounds(app)
    statuses: Counter[str] = Counter()
    codes: Counter[str] = Counter()
    slowest = 0.0
    for _ in range(count):
        content = chance.choice(BENDS)(chance.choice(pictures), chance)
        began = time.perf_counter()
        answer = Sending(grounds.keeper, grounds.site, content).send()
        slowest = max(slowest, time.perf_counter() - began)
        statuses[str(answer.status_code)] += 1
        codes[answer.json["code"] if answer.status_code >= 400 else "taken"] += 1
    # Not by getrusage: it starts from the peak of the process that started this one.
    peak_mb = int(re.search(r"VmHWM:\s+(\d+)", Path("/proc/self/status").read_text())[1]) / 1024
    told = {
        "statuses": statuses,
        "codes": codes,
        "slowest_s": round(slowest, 2),
        "peak_mb": round(peak_mb),
        "cameras": len(camera_files.photos()),
    }
    sys.stdout.write(json.dumps(told) + "\n")


if __name__ == "__main__":
    main(int(sys.argv[1]), int(sys.argv[2]))
