"""The command `makegood reckon`: which sums there are, how they are asked for, how they answer and refuse."""

import argparse
import json
import re
import sys
from collections.abc import Callable, Sequence
from importlib import import_module
from typing import NoReturn, cast

from makegood.errors import BadInput, MakegoodError
from makegood.reckon.given import STANDARD_INPUT, Given, read_json
from makegood.reckon.printing import written

Answer = dict[str, object]
# Each sum: where it lies in this package, and what it does. Only the one asked for is loaded.
SUMS = {
    "area": ("surfaces.area", "true area and edge of an outline on a wall, or of the whole wall"),
    "yield": ("mixing.yield_of", "what volume a mix makes"),
    "estimate": ("repair.estimate_repair", "what one repair takes: materials with low, likely and high"),
    "shopping": ("buying.shopping", "several jobs to one list, merged first and rounded up once"),
    "storm": ("rain.storm", "driving rain of a storm known only by its totals"),
    "endurance": (
        "wear.endurance",
        "how long finishes held, from durations or from intervals between visits",
    ),
    "erosion": ("wear.erode", "how fast a face wears, what is left, and when it is through"),
    "curing": ("waiting.curing", "dated steps of a stack of coats"),
    "gate": ("waiting.gate", "why not to lay plaster today"),
}


class _Parser(argparse.ArgumentParser):
    """A parser that refuses as every sum refuses."""

    def error(self, message: str) -> NoReturn:
        named = re.search(r"argument ([^\s:/]+)", message)
        fields = {named.group(1): message} if named else {}
        raise BadInput(
            "bad_argument", f"{message[:1].upper()}{message[1:]}. See `{self.prog} --help`.", fields
        )


def build_parser() -> argparse.ArgumentParser:
    """Return the parser of all sums."""
    parser = _Parser(
        prog="makegood reckon",
        description="Reckon from the command line: JSON in, JSON out.",
        allow_abbrev=False,
    )
    commands = parser.add_subparsers(dest="sum", required=True, metavar="SUM")
    for name, (_, says) in SUMS.items():
        one = commands.add_parser(name, help=says, description=f"{says}.", allow_abbrev=False)
        one.add_argument(
            "file", nargs="?", default=STANDARD_INPUT, help="JSON to read; left out: standard input"
        )
        if name == "curing":
            one.add_argument("--ics", metavar="FILE.ics", help="write the steps as a calendar file too")
    _add_driving_rain(commands)
    return parser


def _add_driving_rain(commands: "argparse._SubParsersAction[_Parser]") -> None:
    from makegood.reckon.rain import add_weather_arguments

    says = "driving rain on a face over a table of hourly weather"
    add_weather_arguments(
        commands.add_parser("driving-rain", help=says, description=f"{says}.", allow_abbrev=False)
    )


def _answer(args: argparse.Namespace) -> Answer:
    if args.sum == "driving-rain":
        from makegood.reckon.rain import driving_rain

        return driving_rain(args)
    module, _, function = SUMS[args.sum][0].partition(".")
    reckon = cast("Callable[..., Answer]", getattr(import_module(f"makegood.reckon.{module}"), function))
    fields = read_json(args.file)
    # Several printed estimates put together make a list.
    given = Given({"estimates": fields} if args.sum == "shopping" and isinstance(fields, list) else fields)
    answer = reckon(given, args.ics) if args.sum == "curing" else reckon(given)
    return {**answer, "warnings": [*cast("list[str]", answer["warnings"]), *given.unread()]}


def main(argv: Sequence[str]) -> int:
    """Reckon one sum; a refusal is one JSON error on standard error and exit status 2."""
    try:
        text = written(_answer(build_parser().parse_args(argv)))
    except MakegoodError as refusal:
        sys.stderr.write(json.dumps(refusal.as_json(), ensure_ascii=False) + "\n")
        return 2
    except ArithmeticError:
        far = BadInput(
            "out_of_range", "These numbers are too large or too small to reckon with; check their units."
        )
        sys.stderr.write(json.dumps(far.as_json()) + "\n")
        return 2
    sys.stdout.write(text + "\n")
    return 0
