"""Which addresses phones can use: private ones only, or a sentence."""

from types import SimpleNamespace

import ifaddr
import pytest

from makegood.errors import BadInput
from makegood.lan import addresses
from makegood.lan.addresses import EVERYWHERE, reachable


@pytest.fixture
def network(monkeypatch):
    """A way to say which addresses the machine has, and by which of them it usually leaves."""

    def has(*ips, way_out=""):
        held = [SimpleNamespace(ip=ip, is_IPv4=isinstance(ip, str)) for ip in ips]
        monkeypatch.setattr(ifaddr, "get_adapters", lambda: [SimpleNamespace(ips=held)])
        monkeypatch.setattr(addresses, "_way_out", lambda: way_out)

    return has


def test_private_addresses_count_the_usual_one_first(network):
    network("127.0.0.1", ("fe80::1", 0, 0), "172.17.0.1", "203.0.113.4", "192.168.4.7", "192.168.4.7", way_out="192.168.4.7")
    assert reachable(EVERYWHERE) == ["192.168.4.7", "172.17.0.1"]


@pytest.mark.parametrize("ips", [(), ("127.0.0.1",), ("127.0.0.1", "203.0.113.4")])
def test_without_a_network_there_is_a_sentence(network, ips):
    network(*ips)
    with pytest.raises(BadInput, match=r"Join it to your wireless network, or switch its\s+own hotspot on") as refused:
        reachable(EVERYWHERE)
    assert refused.value.code == "no_network"


@pytest.mark.parametrize("host", ["127.0.0.1", "192.168.4.7"])
def test_named_address_is_the_only_one(host):
    assert reachable(host) == [host]


@pytest.mark.parametrize("host", ["203.0.113.4", "farm", "::1", ""])
def test_public_or_unreadable_address_is_refused(host):
    with pytest.raises(BadInput, match="no private address") as refused:
        reachable(host)
    assert refused.value.code == "not_private"


def test_this_very_machine_can_be_asked():
    assert all(one.count(".") == 3 for one in addresses._of_this_machine())
