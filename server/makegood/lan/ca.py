"""The farm's own certificate authority: made on the spot, kept in the data folder, bound to one name and private addresses.

RFC 5280: a critical name constraint (4.2.1.10) makes a certificate for any other name under this authority void.
"""

import ipaddress
import os
import secrets
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from makegood.errors import BadInput

# RFC 1918 and link-local: what a home router hands out. No address of the internet is among them.
PRIVATE_RANGES = tuple(
    ipaddress.IPv4Network(one) for one in ("10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16")
)
_AUTHORITY_DAYS = 3650
# Browsers refuse server certificates that last much longer than a year.
_SERVER_DAYS = 397
_RENEW_DAYS = 60
# A phone whose clock is a little behind must not find the certificate unborn.
_CLOCK_SLACK = timedelta(days=1)
_KEY_USAGES = (
    "digital_signature", "content_commitment", "key_encipherment", "data_encipherment", "key_agreement",
    "key_cert_sign", "crl_sign", "encipher_only", "decipher_only",
)  # fmt: skip


@dataclass(frozen=True)
class Pair:
    """A certificate with its key."""

    certificate: x509.Certificate
    key: ec.EllipticCurvePrivateKey

    @property
    def der(self) -> bytes:
        """The certificate as phones take it."""
        return self.certificate.public_bytes(serialization.Encoding.DER)

    @property
    def fingerprint(self) -> str:
        """SHA-256 of the certificate as phones show it: AB:CD:..."""
        return self.certificate.fingerprint(hashes.SHA256()).hex(":").upper()

    @property
    def ends(self) -> datetime:
        """The last moment the certificate is good for."""
        return self.certificate.not_valid_after_utc


def name_of(authority: Pair) -> str:
    """Return the one name an authority may vouch for."""
    limits = authority.certificate.extensions.get_extension_for_class(x509.NameConstraints).value
    names = [str(one.value) for one in limits.permitted_subtrees or [] if isinstance(one, x509.DNSName)]
    return names[0]


def read_authority(folder: Path, now: datetime) -> Pair | None:
    """Return the authority of a data folder, or None where none was made yet; raises BadInput for one that is of no use.

    It never makes another in place of a bad one: every phone would have to be told of it.
    """
    place = _authority_file(folder)
    if not place.exists():
        return None
    found = _read(place)
    try:
        fits = found is not None and bool(name_of(found))
    except (x509.ExtensionNotFound, IndexError):
        fits = False
    if found is None or not fits:
        raise BadInput(
            "authority_unreadable",
            f"{place} is damaged or cannot be read. Bring it back from a copy; or move it away and start again: a new one is "
            "made, and every phone has to fetch the new certificate.",
        )
    if found.ends <= now:
        raise BadInput(
            "authority_over",
            f"By this machine's clock it is {now:%Y-%m-%d}, and the certificate in {place} ran out on {found.ends:%Y-%m-%d}. "
            "If the clock is wrong, set it. If it is right, move the file away and start again: every phone has to fetch "
            "the new certificate.",
        )
    return found


def make_authority(folder: Path, name: str, now: datetime) -> Pair:
    """Make and keep an authority that can vouch for this name and private addresses, and for nothing else."""
    key = ec.generate_private_key(ec.SECP256R1())
    subject = x509.Name(
        [
            x509.NameAttribute(NameOID.ORGANIZATION_NAME, "Makegood"),
            x509.NameAttribute(NameOID.COMMON_NAME, f"Makegood {name}, made {now:%Y-%m-%d}"),
        ]
    )
    permitted: list[x509.GeneralName] = [x509.DNSName(name), *map(x509.IPAddress, PRIVATE_RANGES)]
    made = (
        _begin(subject, subject, key.public_key(), now, _AUTHORITY_DAYS)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_key_usage("key_cert_sign", "crl_sign"), critical=True)
        .add_extension(x509.NameConstraints(permitted, None), critical=True)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .sign(key, hashes.SHA256())
    )
    return _keep(_authority_file(folder), Pair(made, key))


def server_pair(folder: Path, authority: Pair, addresses: Sequence[str], now: datetime) -> tuple[Pair, bool]:
    """Return the server's own pair for these addresses, made anew where needed, and whether it was made anew."""
    listed = [one for one in map(ipaddress.IPv4Address, addresses) if any(one in span for span in PRIVATE_RANGES)]
    old = _read(server_file(folder))
    if old is not None and _still_good(old, authority, listed, now):
        return old, False
    key = ec.generate_private_key(ec.SECP256R1())
    name = name_of(authority)
    made = (
        _begin(_common_name(name), authority.certificate.subject, key.public_key(), now, _SERVER_DAYS, authority.ends)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_key_usage("digital_signature"), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.SubjectAlternativeName(_alternatives(name, listed)), critical=False)
        .add_extension(x509.AuthorityKeyIdentifier.from_issuer_public_key(authority.key.public_key()), critical=False)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .sign(authority.key, hashes.SHA256())
    )
    return _keep(server_file(folder), Pair(made, key)), True


def server_file(folder: Path) -> Path:
    """Return where the server's certificate and key lie, one after the other, as ssl reads them."""
    return folder / "lan" / "server.pem"


def _authority_file(folder: Path) -> Path:
    return folder / "lan" / "authority.pem"


def _still_good(old: Pair, authority: Pair, addresses: list[ipaddress.IPv4Address], now: datetime) -> bool:
    try:
        old.certificate.verify_directly_issued_by(authority.certificate)
        names = old.certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    except Exception:  # noqa: BLE001 - whatever is wrong with it, another is made from the authority in no time
        return False
    lasts = old.certificate.not_valid_before_utc <= now and (old.ends - now > timedelta(days=_RENEW_DAYS))
    return lasts and set(names) == set(_alternatives(name_of(authority), addresses))


def _alternatives(name: str, addresses: list[ipaddress.IPv4Address]) -> list[x509.GeneralName]:
    return [x509.DNSName(name), *map(x509.IPAddress, addresses)]


def _common_name(name: str) -> x509.Name:
    return x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, name)])


def _begin(
    subject: x509.Name,
    issuer: x509.Name,
    key: ec.EllipticCurvePublicKey,
    now: datetime,
    days: int,
    ends_by: datetime | None = None,
) -> x509.CertificateBuilder:
    begins = now.astimezone(UTC).replace(microsecond=0) - _CLOCK_SLACK
    ends = begins + timedelta(days=days)
    builder = x509.CertificateBuilder().subject_name(subject).issuer_name(issuer).public_key(key)
    builder = builder.serial_number(x509.random_serial_number())
    return builder.not_valid_before(begins).not_valid_after(min(ends, ends_by or ends))


def _key_usage(*wanted: str) -> x509.KeyUsage:
    return x509.KeyUsage(**{one: one in wanted for one in _KEY_USAGES})


def _read(place: Path) -> Pair | None:
    """Return what a file holds, or None if that is no pair; a key that others may read is closed to them."""
    try:
        content = place.read_bytes()
        place.chmod(0o600)
        key = serialization.load_pem_private_key(content, None)
        found = x509.load_pem_x509_certificate(content)
    except (OSError, ValueError, TypeError):
        return None
    if not isinstance(key, ec.EllipticCurvePrivateKey) or found.public_key() != key.public_key():
        return None
    return Pair(found, key)


def _keep(place: Path, pair: Pair) -> Pair:
    """Write a pair so that only the owner ever reads it and never half of it is there."""
    try:
        place.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        half = place.with_name(f".{place.name}.{secrets.token_hex(4)}")
        with os.fdopen(os.open(half, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as file:
            file.write(pair.certificate.public_bytes(serialization.Encoding.PEM) + _plain(pair.key))
            file.flush()
            os.fsync(file.fileno())
        half.replace(place)
    except OSError as why:
        raise BadInput(
            "folder_refused", f"{place} cannot be written ({why.strerror}). Mend the folder, or choose another with --data."
        ) from why
    return pair


def _plain(key: ec.EllipticCurvePrivateKey) -> bytes:
    pem, form = serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8
    return key.private_bytes(pem, form, serialization.NoEncryption())
