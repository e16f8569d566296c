"""The README's pictures: each is there, small, made by the script's list, and told in words to who cannot see it."""

import re

import pytest
from PIL import Image

from tests.house.tree import ROOT, files
from tests.walks.pictures import FOLDER, LARGEST_KB, PICTURES

SHOWN = re.findall(r"!\[([^\]]*)\]\(([^)]+)\)", (ROOT / "README.md").read_text(encoding="utf-8"))


def test_readme_shows_each_picture_of_the_list_and_no_other():
    of_the_list = {(FOLDER / f"{name}.png").relative_to(ROOT).as_posix() for name, _, _ in PICTURES}
    assert {file for _, file in SHOWN} == of_the_list
    assert {path.relative_to(ROOT).as_posix() for path in files(".png", under="demo_data/pictures")} == of_the_list


@pytest.mark.parametrize("picture", PICTURES, ids=lambda one: one[0])
def test_picture_is_small_and_of_the_size_it_is_made_in(picture):
    name, _, size = picture
    file = FOLDER / f"{name}.png"
    assert file.stat().st_size < LARGEST_KB * 1024
    with Image.open(file) as drawn:
        assert drawn.size == (size["width"], size["height"])


@pytest.mark.parametrize("alt", [alt for alt, _ in SHOWN])
def test_picture_is_told_in_words(alt):
    assert len(alt.split()) >= 6
