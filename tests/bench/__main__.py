"""Prints one table of all lines: name, measured, peer or limit, ratio. Names as arguments pick modules."""

import sys
from importlib import import_module
from pathlib import Path

from tests.bench import Line

FOLDER = Path(__file__).parent


def modules() -> list[str]:
    """Return the modules of this folder that bring lines."""
    return sorted(path.stem for path in FOLDER.glob("*.py") if not path.stem.startswith(("_", "test_")))


def shown(value: float | None, unit: str) -> str:
    """Return a figure in four digits with its unit."""
    return "-" if value is None else f"{value:.4g} {unit}"


def row(line: Line) -> tuple[str, str, str, str, str]:
    """Return the cells of one line."""
    ratio = "-" if line.ratio is None else f"{line.ratio:.2f}"
    verdict = {True: "fine", False: f"over {line.upto}", None: line.note}[line.fine]
    return (
        line.name,
        shown(line.measured, line.unit),
        f"{shown(line.against, line.unit)} ({line.kind})",
        ratio,
        verdict,
    )


def main(wanted: list[str]) -> int:
    """Print the table; exit status 1 if a line is over what it may be."""
    unknown = set(wanted) - set(modules())
    if unknown:
        print(
            f"There is no bench {', '.join(sorted(unknown))}; choose from {', '.join(modules())}.",
            file=sys.stderr,
        )
        return 2
    lines: list[Line] = []
    for name in wanted or modules():
        lines += import_module(f"tests.bench.{name}").cases()
    cells = [("what", "measured", "peer or limit", "ratio", ""), *map(row, lines)]
    widths = [max(len(cell[column]) for cell in cells) for column in range(4)]
    for cell in cells:
        print(
            "  ".join(
                [*(text.ljust(width) for text, width in zip(cell, widths, strict=False)), cell[4]]
            ).rstrip()
        )
    return int(any(line.fine is False for line in lines))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
