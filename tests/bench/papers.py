"""Papers: a report of 200 pages with 400 photos beside the same words and photos put down with the bare PDF library.

Peak memory is VmHWM of a process of its own, so that what this one has used before does not count.
"""

import random
import subprocess
import sys
from collections.abc import Iterable
from io import BytesIO
from pathlib import Path

from fpdf import FPDF
from PIL import Image
from pypdf import PdfReader

from makegood.papers.page.sheet import _FONTS, _font_file
from tests.bench import Line, best_s
from tests.papers.site import OUTLINE, Ground, printed

SIDES, DEFECTS, PHOTOS_EACH = 100, 4, 1
AIM, MOST_MB = 1.3, 200.0


def ground() -> Ground:
    """Return a site of 100 sides with 400 defects and as many photos: about 200 pages."""
    chance, found = random.Random(5), Ground()
    barn = found.add("structure", name="Barn", wall_material="cob")
    surface = {"kind": "flat", "width_m": 6.0, "height_m": 3.0, "batter_deg": 0.0}
    for side in range(SIDES):
        told = {"name": f"Side {side}", "surface": surface, "bearing_deg": side, "openings": []}
        wall = found.add("elevation", structure_id=barn["id"], **told)
        for n in range(DEFECTS):
            note = " ".join(["The second coat has come away and bare earth shows below it."] * 8)
            told = {"kind": ("spalling", "delamination", "damp_patch")[n % 3], "mark": OUTLINE, "signs": [], "note": note}
            defect = found.add("defect", number=side * DEFECTS + n, elevation_id=wall["id"], **told)
            for _ in range(PHOTOS_EACH):
                photo = found.photo("defect", defect["id"])
                found.copies[photo["sha256"]] = _grainy(chance)
    return found


def _grainy(chance: random.Random) -> bytes:
    grain = Image.frombytes("RGB", (100, 75), chance.randbytes(100 * 75 * 3)).resize((400, 300), Image.Resampling.BICUBIC)
    out = BytesIO()
    grain.save(out, "JPEG", quality=80)
    return out.getvalue()


def bare(pages: list[str], copies: list[bytes]) -> bytes:
    """Put the same words, page by page, and the same photos, each described, on as many pages with the library alone."""
    pdf = FPDF()
    pdf.set_auto_page_break(False)
    pdf.set_lang("en")
    pdf.add_font("sans", "", _font_file(*_FONTS["sans", ""]))
    each = -(-len(copies) // len(pages))
    for n, words in enumerate(pages):
        pdf.add_page()
        pdf.set_font("sans", size=9.5)
        pdf.multi_cell(0, 4.4, words, new_x="LMARGIN", new_y="NEXT")
        for k, jpeg in enumerate(copies[n * each : (n + 1) * each]):
            pdf.image(BytesIO(jpeg), x=16 + k * 90, y=200, w=86, alt_text="Photo")
    return bytes(pdf.output())


def cases() -> Iterable[Line]:
    """Return the lines of the long report."""
    site = ground()
    pages = [page.extract_text() for page in PdfReader(BytesIO(printed(site, "report"))).pages]
    copies = list(site.copies.values())
    ours = best_s(lambda: printed(site, "report"), times=3)
    peer = best_s(lambda: bare(pages, copies), times=3)
    yield Line(f"report of {len(pages)} pages with {len(copies)} photos", ours, peer, "s", "peer", AIM)
    yield Line("its peak memory", _peak_mb(), MOST_MB, "MB", "limit", 1.0)


def _peak_mb() -> float:
    told = "from tests.bench.papers import ground, peak; peak(ground())"
    done = subprocess.run([sys.executable, "-c", told], check=True, capture_output=True, text=True)
    return float(done.stdout.split()[-1])


def peak(site: Ground) -> None:
    """Make the report and print this process's peak memory [MB]."""
    printed(site, "report")
    status = Path("/proc/self/status").read_text(encoding="utf-8")
    print(int(status.split("VmHWM:")[1].split()[0]) / 1024)


if __name__ == "__main__":
    print(*cases(), sep="\n")
