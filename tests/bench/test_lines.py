"""The table of benches: ratios, verdicts, and that a figure that could not be taken says so."""

from tests.bench import Line
from tests.bench.__main__ import main, modules, row


def test_ratio_and_verdict():
    assert Line("x", 1.0, 2.0, "s").ratio == 0.5
    assert row(Line("x", 3.0, 2.0, "s"))[3:] == ("1.50", "over 1.0")
    assert row(Line("x", 3.0, 2.0, "s", "peer", None))[2:] == ("2 s (peer)", "1.50", "")


def test_figure_that_was_not_taken_says_how_to_take_it():
    line = Line("x", None, 90.0, "kB", note="build it first")
    assert (line.ratio, line.fine) == (None, None)
    assert row(line)[1:] == ("-", "90 kB (limit)", "-", "build it first")


def test_unknown_bench_is_refused(capsys):
    assert main(["nothing"]) == 2
    assert "choose from" in capsys.readouterr().err


def test_modules_are_found_by_themselves():
    assert {"photos", "shell", "sums"} <= set(modules())
