"""Draw all pictures of the demo site into photos/: `python demo_data/draw_photos.py`; about a minute."""

import sys
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

from drawing.picture import jpeg_bytes
from drawing.scenes import drawn
from shots import SHOTS, camera_facts, file_name, is_portrait

FOLDER = Path(__file__).parent / "photos"


def photo_bytes(number: int) -> bytes:
    """Draw one picture and return its camera file."""
    shot = SHOTS[number]
    return jpeg_bytes(drawn(shot.scene), camera_facts(shot), is_portrait(shot))


def main() -> None:
    """Draw every picture anew and drop files that are no longer in the list."""
    FOLDER.mkdir(exist_ok=True)
    names = [file_name(number) for number in range(len(SHOTS))]
    for old in FOLDER.glob("*.jpg"):
        if old.name not in names:
            old.unlink()
    with ProcessPoolExecutor() as crew:
        for name, content in zip(names, crew.map(photo_bytes, range(len(SHOTS))), strict=True):
            (FOLDER / name).write_bytes(content)
            sys.stdout.write(f"{name} {len(content) // 1024} KB\n")


if __name__ == "__main__":
    main()
