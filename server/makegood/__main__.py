"""The command line: demo, serve, invite."""

import argparse
import sys
from collections.abc import Callable, Sequence
from pathlib import Path

from makegood import __version__, demo, serving
from makegood.errors import MakegoodError

DEFAULT_PORT = 8377


def _add_address(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--host", default="127.0.0.1", help="address to listen on (default: this machine only)")
    parser.add_argument("--port", type=int, default=DEFAULT_PORT, help=f"port (default {DEFAULT_PORT})")


def build_parser() -> argparse.ArgumentParser:
    """Return the parser; each command carries the function that does it."""
    parser = argparse.ArgumentParser(prog="makegood", description="Survey storm damage on walls and see each repair through.")
    parser.add_argument("--version", action="version", version=f"makegood {__version__}")
    commands = parser.add_subparsers(dest="command", required=True)

    shown = commands.add_parser("demo", help="open an invented site in a folder that is thrown away afterwards")
    _add_address(shown)
    shown.add_argument("--no-browser", action="store_true", help="do not open the browser")
    shown.set_defaults(run=lambda a: demo.show(a.host, a.port, not a.no_browser))

    served = commands.add_parser("serve", help="run your own site")
    served.add_argument("--data", type=Path, required=True, help="folder for the database and the photos")
    _add_address(served)
    served.add_argument("--origin", help="the address phones use, when a proxy stands in front (https://...)")
    served.set_defaults(run=lambda a: serving.serve(a.data, a.host, a.port, a.origin))

    invited = commands.add_parser("invite", help="print a new link for a keeper's phone")
    invited.add_argument("--data", type=Path, required=True, help="folder of the running site")
    invited.add_argument("--origin", default=f"http://localhost:{DEFAULT_PORT}", help="the address phones use")
    invited.set_defaults(run=lambda a: serving.print_invite(a.data, a.origin))
    return parser


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command; a refusal is one sentence on standard error and exit status 2."""
    args = build_parser().parse_args(argv)
    run: Callable[[argparse.Namespace], None] = args.run
    try:
        run(args)
    except MakegoodError as refusal:
        print(refusal.message, file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        print("Stopped.")
    return 0


if __name__ == "__main__":
    sys.exit(main())
