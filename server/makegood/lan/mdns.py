"""The name on the local network: makegood.local, or the next one that is free, told by multicast DNS."""

import ipaddress
import logging
from collections.abc import Sequence

import zeroconf
from zeroconf import AddressResolverIPv4  # type: ignore[attr-defined]

from makegood.errors import Unavailable

FIRST_NAME = "makegood.local"
_KIND = "_https._tcp.local."
_MOST_NAMES = 9
_ASK_MS = 1200
log = logging.getLogger(__name__)


class Crier:
    """Tells the network where a name is; `close` takes it back."""

    def __init__(self, addresses: Sequence[str]) -> None:
        """Open multicast DNS on these addresses of this machine; raises Unavailable."""
        self._addresses = list(addresses)
        self._told: zeroconf.ServiceInfo | None = None
        try:
            self._dns = zeroconf.Zeroconf(interfaces=self._addresses)
        except (OSError, zeroconf.Error) as why:
            raise Unavailable("no_multicast", f"names cannot be told on this network ({why})") from why

    def holders(self, name: str) -> list[str]:
        """Return the addresses other machines tell for a name; empty if it is free."""
        asked = AddressResolverIPv4(f"{name}.")
        if not asked.request(self._dns, _ASK_MS):
            return []
        return [str(one) for one in asked.parsed_addresses() if str(one) not in self._addresses]

    def free_name(self) -> str:
        """Return the first of makegood.local, makegood-2.local ... that nobody else on the network has."""
        stem = FIRST_NAME.removesuffix(".local")
        names = [FIRST_NAME, *(f"{stem}-{n}.local" for n in range(2, _MOST_NAMES + 1))]
        return next((one for one in names if not self.holders(one)), names[-1])

    def tell(self, name: str, port: int) -> None:
        """Answer from now on for a name; raises Unavailable."""
        packed = [ipaddress.IPv4Address(one).packed for one in self._addresses]
        service = f"{name.removesuffix('.local')}.{_KIND}"
        told = zeroconf.ServiceInfo(_KIND, service, addresses=packed, port=port, server=f"{name}.")
        try:
            self._dns.register_service(told, allow_name_change=True)
        except (OSError, zeroconf.Error) as why:
            raise Unavailable("no_multicast", f"the name {name} cannot be told on this network ({why})") from why
        self._told = told

    def close(self) -> None:
        """Take the name back and be silent."""
        try:
            self._dns.close()
        except (OSError, zeroconf.Error):
            log.debug("multicast DNS did not close", exc_info=True)
