"""The command line: demo, serve, invite, keeping a site safe, reckon. Each loads only what it needs, so a sum answers at once."""

import argparse
import sys
from collections.abc import Callable, Sequence
from pathlib import Path

from makegood import __version__
from makegood.errors import MakegoodError

DEFAULT_PORT, THIS_MACHINE = 8377, "127.0.0.1"


def _add_address(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--host", help="address to listen on (default: this machine only)")
    parser.add_argument("--port", type=int, default=DEFAULT_PORT, help=f"port (default {DEFAULT_PORT})")


def _demo(args: argparse.Namespace) -> None:
    from makegood import demo

    demo.show(args.host or THIS_MACHINE, args.port, not args.no_browser)


def _serve(args: argparse.Namespace) -> None:
    if args.lan:
        from makegood import lan

        return lan.serve(args.data, args.host, args.port)
    from makegood import serving

    return serving.serve(args.data, args.host or THIS_MACHINE, args.port, args.origin)


def _invite(args: argparse.Namespace) -> None:
    from makegood import serving

    serving.print_invite(args.data, args.origin)


def _backup(args: argparse.Namespace) -> int:
    from makegood import keeping

    return _told(keeping.backup(args.file, args.data))


def _restore(args: argparse.Namespace) -> int:
    from makegood import keeping

    return _told(keeping.restore(args.file, args.data))


def _check(args: argparse.Namespace) -> int:
    from makegood import keeping

    return _told(keeping.check(args.data))


def _export(args: argparse.Namespace) -> int:
    from makegood import keeping

    return _told(keeping.export(args.folder, args.data))


def _take_in(args: argparse.Namespace) -> int:
    from makegood import keeping

    return _told(keeping.take_in(args.file, args.data, args.as_own))


def _lasted(args: argparse.Namespace) -> int:
    from makegood import lasted

    for line in lasted.compare(args.files, args.by, args.measure, args.panels):
        print(line)
    return 0


def _add_lasted(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    asked = commands.add_parser("lasted", help="set tables of what lasted from several sites side by side")
    asked.add_argument("files", nargs="+", help="tables saved on the page What lasted")
    asked.add_argument("--by", choices=("coats", "mix", "thickness", "wall", "face"), default="coats")
    asked.add_argument("--measure", choices=("l_m2", "days"), default="l_m2", help="driving rain or days")
    asked.add_argument("--panels", action="store_true", help="sample panels only")
    asked.set_defaults(run=_lasted)


def _paper(args: argparse.Namespace) -> None:
    from makegood import printing

    order = printing.Order(args.name, args.site, args.language, args.measures, args.about, args.origin)
    printing.print_paper(order, args.out, args.data)


def _told(troubles: list[str]) -> int:
    for one in troubles:
        print(one, file=sys.stderr)
    return 1 if troubles else 0


def _add_keeping(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    saved = commands.add_parser("backup", help="save a site to a file, with its photos beside it; it may be running")
    saved.add_argument("file", type=Path, help="backup file; photos go to FILE.photos, each once")
    restored = commands.add_parser("restore", help="bring a backup back into a new folder")
    restored.add_argument("file", type=Path, help="file that `makegood backup` wrote")
    checked = commands.add_parser("check", help="look at every row, reference and photo; exit status 1 if one is wrong")
    exported = commands.add_parser("export", help="write tables, JSON, map places and photos to read without the app")
    exported.add_argument("folder", type=Path, help="new folder to write to")
    taken = commands.add_parser("take-in", help="take in a file that a phone saved for the keeper")
    taken.add_argument("file", type=Path, help="file from the phone")
    own = "keeper who vouches for a phone without a part here: enters its work as their own"
    taken.add_argument("--as-own", metavar="KEEPER", help=own)
    for parser, run in ((saved, _backup), (restored, _restore), (checked, _check), (exported, _export), (taken, _take_in)):
        parser.add_argument("--data", type=Path, required=True, help="folder of the site")
        parser.set_defaults(run=run)


def _add_paper(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    paper = commands.add_parser("paper", help="make a paper or a file: report, hand-out, shopping list, tables, calendar")
    paper.add_argument("name", help="report, handout, closure, shopping, panels, places, calendar, originals, defects-table, ...")
    paper.add_argument("--data", type=Path, required=True, help="folder of the site")
    paper.add_argument("--out", type=Path, required=True, help="new file to write")
    paper.add_argument("--site", help="which site, if the folder holds several")
    paper.add_argument("--about", help="id of the hand-out or ticket the paper is about")
    paper.add_argument("--language", choices=("en", "es"), default="en")
    paper.add_argument("--measures", choices=("metric", "us"), default="metric")
    paper.add_argument("--origin", default="", help="address phones use, for codes to scan; without it a hand-out has none")
    paper.set_defaults(run=_paper)


def build_parser() -> argparse.ArgumentParser:
    """Return the parser; each command carries the function that does it."""
    parser = argparse.ArgumentParser(
        prog="makegood", description="Survey storm damage on walls and see each repair through."
    )
    parser.add_argument("--version", action="version", version=f"makegood {__version__}")
    commands = parser.add_subparsers(dest="command", required=True)

    shown = commands.add_parser(
        "demo", help="open an invented site in a folder that is thrown away afterwards"
    )
    _add_address(shown)
    shown.add_argument("--no-browser", action="store_true", help="do not open the browser")
    shown.set_defaults(run=_demo)

    served = commands.add_parser("serve", help="run your own site")
    served.add_argument("--data", type=Path, required=True, help="folder for the database and the photos")
    _add_address(served)
    served.add_argument("--origin", help="the address phones use, when a proxy stands in front (https://...)")
    served.add_argument(
        "--lan", action="store_true", help="https for phones on the local network, with a certificate of its own (makegood[lan])"
    )
    served.set_defaults(run=_serve)

    invited = commands.add_parser("invite", help="print a new link for a keeper's phone")
    invited.add_argument("--data", type=Path, required=True, help="folder of the running site")
    invited.add_argument(
        "--origin", default=f"http://localhost:{DEFAULT_PORT}", help="the address phones use"
    )
    invited.set_defaults(run=_invite)

    _add_keeping(commands)
    _add_paper(commands)
    _add_lasted(commands)

    # For the help only: everything after `reckon` goes to its own parser, which refuses in JSON.
    commands.add_parser(
        "reckon", help="the sums: JSON in, JSON out; see `makegood reckon --help`", add_help=False
    )
    return parser


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command; a refusal is a sentence (a sum's: one JSON error) on standard error, exit status 2."""
    argv = list(sys.argv[1:] if argv is None else argv)
    if argv[:1] == ["reckon"]:
        from makegood.reckon.commands import main as reckon

        return reckon(argv[1:])
    args = build_parser().parse_args(argv)
    run: Callable[[argparse.Namespace], int | None] = args.run
    try:
        return run(args) or 0
    except MakegoodError as refusal:
        print(refusal.message, file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        print("Stopped.")
    return 0


if __name__ == "__main__":
    sys.exit(main())
