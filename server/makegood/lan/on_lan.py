"""`makegood serve --lan`: authority, certificate, port, name, guide and the app, put together and kept up to date."""

import logging
import ssl
import threading
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from makegood import serving
from makegood.errors import BadInput, Unavailable
from makegood.lan.addresses import EVERYWHERE, reachable
from makegood.lan.ca import Pair, make_authority, name_of, read_authority, server_file, server_pair
from makegood.lan.door import Door
from makegood.lan.front import Front, listen, tls_of
from makegood.lan.guide import Guide, in_lines
from makegood.lan.mdns import FIRST_NAME, Crier
from makegood.settings import Settings, from_environment
from makegood.store import device as devices

_LOOK_EVERY_S = 30.0
log = logging.getLogger(__name__)


def serve_on_lan(data: Path, host: str | None, port: int) -> None:
    """Run a site for the phones of the local network until stopped; raises BadInput."""
    host = host or EVERYWHERE
    addresses = reachable(host)
    listener = listen(host, port)
    # No proxy stands in front here: who calls is known from the line itself.
    settings = from_environment(data=data, proxies=0)
    app = serving.open_app(settings)
    named = _tell_name(_authority(data, addresses), addresses, port)
    guide = Guide(
        certificate=named.authority.der,
        fingerprint=named.authority.fingerprint,
        name=name_of(named.authority),
        port=port,
        until=f"{named.authority.ends:%Y-%m-%d}",
        addresses=addresses,
        name_is_told=not named.trouble,
    )
    server_pair(data, named.authority, addresses, datetime.now(UTC))
    door = Door(app, guide)
    server = serving.listen(door, "127.0.0.1", 0, strangers=True)
    front = Front(listener, tls_of(server_file(data)), server.effective_port)
    door.callers = front.callers
    front.start()
    keeper = Keeper(data, host, named, guide, front.tls)
    stopped = threading.Event()
    threading.Thread(target=keeper.keep, args=(stopped,), daemon=True).start()
    with app.app_context():
        _say_all(guide, named, settings)
    serving.tidy_daily(app)
    try:
        serving.run_until_stopped(server)
    finally:
        stopped.set()
        front.stop()
        keeper.close()


@dataclass
class Named:
    """The authority, and who tells its name on the network: nobody where that cannot be, with the reason."""

    authority: Pair
    crier: Crier | None
    trouble: str


def _authority(data: Path, addresses: list[str]) -> Pair:
    """Return the folder's authority, made for the first free name if there is none yet."""
    now = datetime.now(UTC)
    return read_authority(data, now) or make_authority(data, _free_name(addresses), now)


def _free_name(addresses: list[str]) -> str:
    try:
        crier = Crier(addresses)
    except Unavailable:
        return FIRST_NAME
    try:
        return crier.free_name()
    finally:
        crier.close()


def _tell_name(authority: Pair, addresses: list[str], port: int) -> Named:
    """Tell the authority's name on the network, unless another machine has it."""
    name = name_of(authority)
    try:
        crier = Crier(addresses)
    except Unavailable as why:
        return Named(authority, None, why.message)
    others = crier.holders(name)
    trouble = f"{name} is another machine's name here ({', '.join(others)})"
    try:
        if not others:
            crier.tell(name, port)
            return Named(authority, crier, "")
    except Unavailable as why:
        trouble = why.message
    crier.close()
    return Named(authority, None, trouble)


@dataclass
class Keeper:
    """Follows the network: other addresses, or a certificate near its end, and a new one is in use at once."""

    data: Path
    host: str
    named: Named
    guide: Guide
    tls: ssl.SSLContext
    lost: str = ""

    def keep(self, stopped: threading.Event, every_s: float = _LOOK_EVERY_S) -> None:
        """Look now and then until stopped; trouble is logged, once as long as it is the same, and tried again."""
        while not stopped.wait(every_s):
            try:
                self.look(lambda: reachable(self.host))
            except BadInput as why:
                if why.message != self.lost:
                    log.warning("%s It is tried again.", why.message)
                self.lost = why.message
            except Exception:
                log.exception("following the network failed; it is tried again")

    def look(self, found: Callable[[], list[str]]) -> None:
        """Bring certificate, guide and name up to the addresses found; raises BadInput where there is no network."""
        addresses = found()
        _, is_new = server_pair(self.data, self.named.authority, addresses, datetime.now(UTC))
        if is_new:
            self.tls.load_cert_chain(server_file(self.data))
        if set(addresses) == set(self.guide.addresses) and not self.lost:
            return
        self.lost, self.guide.addresses = "", addresses
        serving.say(f"The network has changed. Phones find this machine at {guide_address(self.guide)}")
        self.close()
        self.named = _tell_name(self.named.authority, addresses, self.guide.port)
        self.guide.name_is_told = not self.named.trouble

    def close(self) -> None:
        """Tell the name no more."""
        if self.named.crier is not None:
            self.named.crier.close()


def guide_address(guide: Guide) -> str:
    """Return where phones find the guide: by address, which needs no name."""
    return f"http://{guide.addresses[0]}:{guide.port}/lan"


def _say_all(guide: Guide, named: Named, settings: Settings) -> None:
    say = serving.say
    say(f"\n1. Each phone once, on the same network: scan this and follow the pictures.\n\n  {guide_address(guide)}\n")
    serving.say_code(guide_address(guide))
    say("\nThe certificate's SHA-256 fingerprint, to compare with what the phone shows of it:\n")
    for line in in_lines(guide.fingerprint):
        say(f"  {line}")
    origin = guide.origin
    if named.trouble:
        say(f"\nPhones have to use the address instead of the name: {named.trouble}.")
    if not devices.any_keeper():
        say("\n2. Then, on the first phone only:")
        serving.say_link(origin, settings)
    say(f"Makegood is running on {origin} (data in {settings.data}). Stop it with Ctrl-C.")
    say(f"On this machine itself: http://localhost:{guide.port}, without a certificate.")
