"""`makegood paper`: one paper from a folder; an existing file is never written over."""

import pytest

from makegood.__main__ import main
from makegood.papers.press import PAPERS
from tests.papers.site import text_of


def run(settings, tmp_path, *more):
    """Print a paper; return the exit status and where it lies."""
    out = tmp_path / "paper"
    return main(["paper", *more, "--data", str(settings.data), "--out", str(out)]), out


@pytest.fixture
def folder(app, grounds, settings):
    """A folder with one site."""
    if settings.database_url:
        pytest.skip("a folder holds SQLite")
    grounds.add("defect", kind="spalling")
    return settings


def test_paper_is_made(folder, tmp_path):
    status, out = run(folder, tmp_path, "report", "--language", "es")
    assert status == 0
    assert "Informe del recorrido" in text_of(out.read_bytes())
    assert [one.name for one in tmp_path.iterdir() if one.name.endswith(".part")] == []


@pytest.mark.parametrize("name", [name for name, paper in PAPERS.items() if paper.about is None])
def test_every_paper_is_made(folder, tmp_path, name):
    status, out = run(folder, tmp_path, name)
    assert status == 0
    assert out.stat().st_size > 0


def test_refusals(folder, tmp_path, capsys):
    assert run(folder, tmp_path, "poster")[0] == 2
    assert "Choose one of" in capsys.readouterr().err
    assert run(folder, tmp_path, "closure")[0] == 2
    assert run(folder, tmp_path, "shopping", "--site", "elsewhere")[0] == 2
    (tmp_path / "paper").write_text("mine")
    assert run(folder, tmp_path, "shopping")[0] == 2
    assert (tmp_path / "paper").read_text() == "mine"
