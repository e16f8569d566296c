"""The farm's authority: what it can vouch for is proven with two verifiers of others, OpenSSL and the cryptography library."""

import ipaddress
import os
import shutil
import stat
import subprocess
from datetime import UTC, datetime, timedelta

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID
from cryptography.x509.verification import PolicyBuilder, Store, VerificationError

from makegood.errors import BadInput
from makegood.lan.ca import Pair, make_authority, name_of, read_authority, server_file, server_pair

NOW = datetime.now(UTC)
NAME = "makegood.local"
PEM = serialization.Encoding.PEM
ALLOWED = [NAME, "192.168.4.7", "10.200.3.1", "172.31.0.9", "169.254.7.7"]
FORBIDDEN = [
    "bank.example", "makegood-2.local", "local", "makegood.local.example", "9.9.9.9", "172.32.0.1", "127.0.0.1", "fd00::7",
]  # fmt: skip


@pytest.fixture
def authority(tmp_path):
    return make_authority(tmp_path, NAME, NOW)


def general(name):
    try:
        return x509.IPAddress(ipaddress.ip_address(name))
    except ValueError:
        return x509.DNSName(name)


def misuse(authority, name, *, is_authority=False):
    """A certificate for any name, as a thief of the authority's key would make it."""
    key = ec.generate_private_key(ec.SECP256R1())
    builder = (
        x509.CertificateBuilder()
        .subject_name(x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "thief")]))
        .issuer_name(authority.certificate.subject)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(NOW - timedelta(hours=1))
        .not_valid_after(NOW + timedelta(days=30))
        .add_extension(x509.BasicConstraints(ca=is_authority, path_length=None), critical=True)
        .add_extension(x509.SubjectAlternativeName([general(name)]), critical=False)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.AuthorityKeyIdentifier.from_issuer_public_key(authority.key.public_key()), critical=False)
    )
    return Pair(builder.sign(authority.key, hashes.SHA256()), key)


def verified(authority, pair, name):
    """Ask the cryptography library's verifier."""
    builder = PolicyBuilder().store(Store([authority.certificate])).time(NOW)
    return builder.build_server_verifier(general(name)).verify(pair.certificate, [])


def openssl(authority, pair, folder, *more):
    """Ask OpenSSL; return whether it trusts the certificate and what it says."""
    program = shutil.which("openssl")
    if program is None:
        pytest.skip("there is no openssl command on this machine to ask")
    for file, one in (("ca.pem", authority), ("leaf.pem", pair)):
        (folder / file).write_bytes(one.certificate.public_bytes(PEM))
    command = [program, "verify", *more, "-CAfile", folder / "ca.pem", folder / "leaf.pem"]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    return done.returncode == 0, done.stdout + done.stderr


@pytest.mark.parametrize("name", ALLOWED)
def test_own_name_and_private_addresses_are_vouched_for(authority, tmp_path, name):
    pair = misuse(authority, name)
    assert verified(authority, pair, name)[-1] == authority.certificate
    assert openssl(authority, pair, tmp_path)[0]


@pytest.mark.parametrize("name", FORBIDDEN)
def test_every_other_name_under_the_authority_is_void(authority, tmp_path, name):
    pair = misuse(authority, name)
    with pytest.raises(VerificationError):
        verified(authority, pair, name)
    trusted, said = openssl(authority, pair, tmp_path)
    assert not trusted
    assert "permitted subtree violation" in said


def test_authority_makes_no_further_authority(authority, tmp_path):
    under = misuse(authority, NAME, is_authority=True)
    leaf = misuse(under, NAME)
    (tmp_path / "under.pem").write_bytes(under.certificate.public_bytes(PEM))
    assert not openssl(authority, leaf, tmp_path, "-untrusted", str(tmp_path / "under.pem"))[0]


def test_servers_certificate_is_good_for_its_name_and_addresses(authority, tmp_path):
    pair, is_new = server_pair(tmp_path, authority, ["192.168.4.7", "127.0.0.1"], NOW)
    assert is_new
    for name in (NAME, "192.168.4.7"):
        verified(authority, pair, name)
    assert openssl(authority, pair, tmp_path, "-x509_strict", "-verify_hostname", NAME, "-purpose", "sslserver")[0]
    with pytest.raises(VerificationError):
        verified(authority, pair, "192.168.4.8")
    assert pair.ends - pair.certificate.not_valid_before_utc <= timedelta(days=397)


def test_fingerprint_is_the_one_that_others_show(authority, tmp_path):
    openssl(authority, authority, tmp_path)
    command = ["openssl", "x509", "-in", tmp_path / "ca.pem", "-noout", "-fingerprint", "-sha256"]
    said = subprocess.run(command, capture_output=True, text=True, check=True).stdout
    assert said.strip().rpartition("=")[2] == authority.fingerprint


def test_only_the_owner_reads_the_keys_whatever_the_umask(tmp_path):
    before = os.umask(0)
    try:
        authority = make_authority(tmp_path, NAME, NOW)
        server_pair(tmp_path, authority, [], NOW)
    finally:
        os.umask(before)
    modes = {path.name: stat.S_IMODE(path.stat().st_mode) for path in (tmp_path / "lan").iterdir()}
    assert modes == {"authority.pem": 0o600, "server.pem": 0o600}
    assert stat.S_IMODE((tmp_path / "lan").stat().st_mode) == 0o700


def test_key_laid_open_is_closed_again(authority, tmp_path):
    (tmp_path / "lan" / "authority.pem").chmod(0o644)
    read_authority(tmp_path, NOW)
    assert stat.S_IMODE((tmp_path / "lan" / "authority.pem").stat().st_mode) == 0o600


def test_authority_is_kept(authority, tmp_path):
    again = read_authority(tmp_path, NOW + timedelta(days=3000))
    assert again is not None
    assert again.der == authority.der
    assert name_of(again) == NAME
    assert read_authority(tmp_path / "elsewhere", NOW) is None


@pytest.mark.parametrize("content", ["", "no certificate", "half"])
def test_damaged_authority_is_refused_and_left_as_it_is(authority, tmp_path, content):
    place = tmp_path / "lan" / "authority.pem"
    damaged = place.read_bytes()[:600] if content == "half" else content.encode()
    place.write_bytes(damaged)
    with pytest.raises(BadInput, match="Bring it back from a copy") as refused:
        read_authority(tmp_path, NOW)
    assert refused.value.code == "authority_unreadable"
    assert place.read_bytes() == damaged


def test_server_certificate_in_the_authoritys_place_is_refused(authority, tmp_path):
    server_pair(tmp_path, authority, [], NOW)
    shutil.copy(server_file(tmp_path), tmp_path / "lan" / "authority.pem")
    with pytest.raises(BadInput) as refused:
        read_authority(tmp_path, NOW)
    assert refused.value.code == "authority_unreadable"


def test_clock_years_ahead_makes_no_new_authority(authority, tmp_path):
    with pytest.raises(BadInput, match="If the clock is wrong, set it") as refused:
        read_authority(tmp_path, NOW + timedelta(days=4000))
    assert refused.value.code == "authority_over"
    assert read_authority(tmp_path, NOW).der == authority.der


def test_certificate_stays_while_it_fits(authority, tmp_path):
    first, _ = server_pair(tmp_path, authority, ["192.168.4.7", "10.0.0.2"], NOW)
    again, is_new = server_pair(tmp_path, authority, ["10.0.0.2", "192.168.4.7"], NOW + timedelta(days=300))
    assert (again.der, is_new) == (first.der, False)


@pytest.mark.parametrize(
    ("addresses", "days"),
    [(["192.168.4.8"], 0), ([], 0), (["192.168.4.7"], 340), (["192.168.4.7"], 500), (["192.168.4.7"], -400)],
    ids=["other address", "no address", "near its end", "over", "clock set back"],
)
def test_certificate_is_made_anew_when_it_no_longer_fits(authority, tmp_path, addresses, days):
    first, _ = server_pair(tmp_path, authority, ["192.168.4.7"], NOW)
    later = NOW + timedelta(days=days)
    second, is_new = server_pair(tmp_path, authority, addresses, later)
    assert is_new
    assert second.der != first.der
    assert second.certificate.not_valid_before_utc <= later < second.ends


def test_certificate_of_another_authority_or_a_damaged_one_is_made_anew(authority, tmp_path):
    server_pair(tmp_path, authority, [], NOW)
    other = make_authority(tmp_path, NAME, NOW)
    assert server_pair(tmp_path, other, [], NOW)[1]
    server_file(tmp_path).write_text("torn")
    pair, is_new = server_pair(tmp_path, other, [], NOW)
    assert is_new
    verified(other, pair, NAME)


def test_certificate_never_outlives_its_authority(authority, tmp_path):
    pair, _ = server_pair(tmp_path, authority, [], authority.ends - timedelta(days=90))
    assert pair.ends == authority.ends


def test_folder_that_cannot_be_written_is_told(tmp_path):
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(BadInput, match="choose another with --data") as refused:
        make_authority(tmp_path / "file", NAME, NOW)
    assert refused.value.code == "folder_refused"
