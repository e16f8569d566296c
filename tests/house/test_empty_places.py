"""An empty list shows what will stand there: the compiler asks `Empty` for its drawing, this looks for lists without it."""

import re

import pytest

from tests.house.tree import files, named

SCREENS = [path for folder in ("views", "parts") for path in files(".tsx", under=f"web/src/{folder}")]
BARE = re.compile(r"<ul\b.*: <p\b[^>]*>\{t\(|\? <p\b[^>]*>\{t\(.*: <ul\b")
# No empty lists but answers in themselves.
ANSWERS = {
    "web/src/views/marks/DefectView.tsx": "no sign of danger is what somebody saw",
    "web/src/views/tickets/DefectsCard.tsx": "says why the defects cannot be shown",
    "web/src/views/tickets/board/BoardView.tsx": "nothing late is what one hopes to read",
}


@pytest.mark.parametrize("path", SCREENS, ids=named)
def test_no_list_ends_in_a_bare_sentence(path):
    bare = [line.strip()[:90] for line in path.read_text(encoding="utf-8").splitlines() if BARE.search(line)]
    assert bool(bare) == (named(path) in ANSWERS), bare


def test_a_planted_bare_list_is_found():
    assert BARE.search('{rows.length ? <ul class="rows">{rows}</ul> : <p>{t("rows_none")}</p>}')
    assert BARE.search('{rows.length === 0 ? <p class="hint">{t("rows_none")}</p> : <ul>{rows}</ul>}')
    assert not BARE.search('{rows.length ? <ul>{rows}</ul> : <Empty small scene="list">{t("rows_none")}</Empty>}')
