"""The name on the network, found again by another speaker of multicast DNS on the loopback of this machine."""

import ipaddress
import socket
from uuid import uuid4

import pytest
import zeroconf

from makegood.errors import Unavailable
from makegood.lan import mdns
from makegood.lan.mdns import Crier

LOOPBACK = "127.0.0.1"


@pytest.fixture(scope="module", autouse=True)
def loopback_carries_multicast():
    """Without multicast on the loopback nothing can be proven here; found out with bare sockets, not with what is tested."""
    group = "239.255.77.77"
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as ear, socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as mouth:
        try:
            ear.bind(("", 0))
            ear.settimeout(2)
            ear.setsockopt(socket.IPPROTO_IP, socket.IP_ADD_MEMBERSHIP, socket.inet_aton(group) + socket.inet_aton(LOOPBACK))
            mouth.setsockopt(socket.IPPROTO_IP, socket.IP_MULTICAST_IF, socket.inet_aton(LOOPBACK))
            mouth.sendto(b"heard", (group, ear.getsockname()[1]))
            assert ear.recv(16) == b"heard"
        except OSError as why:
            pytest.skip(f"the loopback of this machine carries no multicast ({why})")


@pytest.fixture
def name(monkeypatch):
    """A first name that no other test tells at the same time."""
    found = f"makegood-{uuid4().hex[:12]}.local"
    monkeypatch.setattr(mdns, "FIRST_NAME", found)
    return found


@pytest.fixture
def other():
    """Another speaker on the same network."""
    speaker = zeroconf.Zeroconf(interfaces=[LOOPBACK])
    yield speaker
    speaker.close()


def resolve(speaker, name):
    asked = mdns.AddressResolverIPv4(f"{name}.")
    asked.request(speaker, 1500)
    return asked.parsed_addresses()


def test_told_name_is_found_and_after_closing_it_is_not(name, other):
    crier = Crier([LOOPBACK])
    try:
        crier.tell(name, 8377)
        assert resolve(other, name) == [LOOPBACK]
        told = other.get_service_info("_https._tcp.local.", f"{name.removesuffix('.local')}._https._tcp.local.", 1500)
        assert told is not None
        assert (told.port, told.server) == (8377, f"{name}.")
    finally:
        crier.close()
    with_fresh_ears = zeroconf.Zeroconf(interfaces=[LOOPBACK])
    try:
        assert resolve(with_fresh_ears, name) == []
    finally:
        with_fresh_ears.close()


def test_name_of_another_machine_is_left_to_it(name, other):
    kind, address = "_https._tcp.local.", ipaddress.IPv4Address("192.168.9.9").packed
    held = zeroconf.ServiceInfo(kind, f"{uuid4().hex}.{kind}", addresses=[address], port=8377, server=f"{name}.")
    crier = Crier([LOOPBACK])
    try:
        assert crier.free_name() == name
        other.register_service(held)
        assert crier.holders(name) == ["192.168.9.9"]
        assert crier.free_name() == name.replace(".local", "-2.local")
    finally:
        crier.close()


def test_machine_without_multicast_is_told_in_words(monkeypatch):
    def refuse(**_):
        raise OSError(19, "No such device")

    monkeypatch.setattr(zeroconf, "Zeroconf", refuse)
    with pytest.raises(Unavailable, match=r"names cannot be told on this network .*No such device"):
        Crier([LOOPBACK])
