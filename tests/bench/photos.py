"""Taking in a photo: copies of a 12-megapixel JPEG, beside the same copies by Pillow from a full decode."""

import random
from collections.abc import Iterable
from io import BytesIO

from PIL import Image, ImageFilter

from makegood.work.picture import COPY_SIZES_PX, make_copies
from tests.bench import Line, best_s

SIZE_PX = (4000, 3000)
# Ours lets libjpeg decode at half size.
AIM = 0.75


def cases() -> Iterable[Line]:
    """Return the line of photo intake."""
    content = wall_like()

    def by_full_decode() -> None:
        with Image.open(BytesIO(content)) as image:
            image.load()
            for size_px in COPY_SIZES_PX:
                image.thumbnail((size_px, size_px), reducing_gap=None)
                image.save(BytesIO(), "JPEG", quality=80)

    copies = best_s(lambda: make_copies(BytesIO(content), "image/jpeg", 1), times=4)
    yield Line("copies of a 12-megapixel photo", copies, best_s(by_full_decode, times=4), "s", "peer", AIM)


def wall_like() -> bytes:
    """Return a JPEG with the grain of plaster: noise at several sizes, so that it is neither flat nor all noise."""
    chance = random.Random(4)
    width_px, height_px = SIZE_PX
    sheet = Image.new("RGB", SIZE_PX, (196, 182, 160))
    for size_px, strength in ((40, 0.3), (400, 0.25), (2000, 0.2)):
        grain = Image.frombytes(
            "RGB", (size_px, size_px * 3 // 4), chance.randbytes(size_px * (size_px * 3 // 4) * 3)
        )
        sheet = Image.blend(sheet, grain.resize((width_px, height_px), Image.Resampling.BICUBIC), strength)
    out = BytesIO()
    sheet.filter(ImageFilter.GaussianBlur(0.6)).save(out, "JPEG", quality=90)
    return out.getvalue()
