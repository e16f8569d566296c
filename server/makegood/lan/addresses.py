"""The private addresses by which phones on the same network reach this machine."""

import ipaddress
import socket

import ifaddr

from makegood.errors import BadInput
from makegood.lan.ca import PRIVATE_RANGES

EVERYWHERE = "0.0.0.0"
# A documentation address (RFC 5737): asking which way it would go sends nothing.
_FAR_AWAY = ("192.0.2.1", 9)


def reachable(host: str) -> list[str]:
    """Return the addresses to serve on, likeliest first: all private ones, or the one named; raises BadInput."""
    if host != EVERYWHERE:
        return [_named(host)]
    found = _of_this_machine()
    if not found:
        raise BadInput(
            "no_network",
            "This machine is on no network that phones can share with it. Join it to your wireless network, or switch its "
            "own hotspot on, then start again.",
        )
    return found


def _named(host: str) -> str:
    try:
        address = ipaddress.IPv4Address(host)
    except ValueError:
        address = None
    if address is None or not (address.is_loopback or any(address in span for span in PRIVATE_RANGES)):
        raise BadInput(
            "not_private",
            f"{host} is no private address of a home network (192.168..., 10..., 172.16... to 172.31...). With --lan leave "
            "--host away, or name such an address of this machine.",
        )
    return host


def _of_this_machine() -> list[str]:
    given = [str(one.ip) for adapter in ifaddr.get_adapters() for one in adapter.ips if one.is_IPv4]
    private = [one for one in given if any(ipaddress.IPv4Address(one) in span for span in PRIVATE_RANGES)]
    usual = _way_out()
    return sorted(dict.fromkeys(private), key=lambda one: one != usual)


def _way_out() -> str:
    """Return the address that traffic usually leaves by; empty where there is no way out."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(_FAR_AWAY)
        except OSError:
            return ""
        return str(probe.getsockname()[0])
