"""What the TypeScript compiler cannot hold: views and parts reach the network and the storage only through the store."""

import json
import re

import pytest

from tests.house.tree import ROOT, files, named

SCREENS = [
    p for folder in ("views", "parts", "words") for p in files(".ts", ".tsx", under=f"web/src/{folder}")
]
STORE = [p for p in files(".ts", under="web/src/store") if ".test." not in p.name]
MODEL = [p for p in files(".ts", under="web/src/model") if ".test." not in p.name]


@pytest.mark.parametrize("path", SCREENS, ids=named)
def test_screens_never_touch_network_or_storage(path):
    text = path.read_text(encoding="utf-8")
    assert not re.search(r"\b(fetch|indexedDB|localStorage|sessionStorage|XMLHttpRequest)\s*[.(]", text)


@pytest.mark.parametrize("path", STORE + MODEL, ids=named)
def test_inner_rings_never_import_outward(path):
    outward = re.findall(r"from \"(?:\.\./)+(views|parts|words)/", path.read_text(encoding="utf-8"))
    assert not outward


@pytest.mark.parametrize("path", SCREENS + STORE, ids=named)
def test_signals_are_replaced_never_mutated(path):
    assert not re.search(
        r"\.value\.(push|splice|sort|set|delete|add|clear)\(", path.read_text(encoding="utf-8")
    )


def test_both_languages_hold_the_same_books():
    books = {lang: {p.name for p in files(".ts", under=f"web/src/words/{lang}")} for lang in ("en", "es")}
    assert books["en"] == books["es"] != set()


def test_lock_file_names_no_address():
    lock = json.loads((ROOT / "web" / "package-lock.json").read_text(encoding="utf-8"))
    assert lock["packages"]
    assert not [name for name, entry in lock["packages"].items() if "resolved" in entry]
