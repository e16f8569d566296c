"""The command line: demo, serve, invite, keeping a site safe, reckon. Each loads only what it needs, so a sum answers at once."""

import argparse
import sys
from collections.abc import Callable, Sequence
from pathlib import Path

from makegood import __version__
from makegood.errors import MakegoodError

DEFAULT_PORT = 8377


def _add_address(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--host", default="127.0.0.1", help="address to listen on (default: this machine only)"
    )
    parser.add_argument("--port", type=int, default=DEFAULT_PORT, help=f"port (default {DEFAULT_PORT})")


def _demo(args: argparse.Namespace) -> None:
    from makegood import demo

    demo.show(args.host, args.port, not args.no_browser)


def _serve(args: argparse.Namespace) -> None:
    from makegood import serving

    serving.serve(args.data, args.host, args.port, args.origin)


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

    return _told(keeping.take_in(args.file, args.data))


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
    for parser, run in ((saved, _backup), (restored, _restore), (checked, _check), (exported, _export), (taken, _take_in)):
        parser.add_argument("--data", type=Path, required=True, help="folder of the site")
        parser.set_defaults(run=run)


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
    served.set_defaults(run=_serve)

    invited = commands.add_parser("invite", help="print a new link for a keeper's phone")
    invited.add_argument("--data", type=Path, required=True, help="folder of the running site")
    invited.add_argument(
        "--origin", default=f"http://localhost:{DEFAULT_PORT}", help="the address phones use"
    )
    invited.set_defaults(run=_invite)

    _add_keeping(commands)

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
