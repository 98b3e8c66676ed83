"""HTTPS within the shop: an authority of its own, which phones install once, and its leaf."""

import ipaddress
import os
from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import NamedTuple

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from jobnotes.errors import NetworkError

LEAF_LASTS = timedelta(days=825)
"""The longest that phones accept of an authority that a person installed (Apple, HT210176)."""

FOLDER = "https"
RENEW_BEFORE = timedelta(days=60)
AUTHORITY_LASTS = timedelta(days=3650)
_EARLY = timedelta(hours=24)  # phones whose clock is behind


class Files(NamedTuple):
    """The leaf with its chain, its key, and the authority to install on phones."""

    certificate: Path
    key: Path
    authority: Path


class _Signer(NamedTuple):
    certificate: x509.Certificate
    key: ec.EllipticCurvePrivateKey


def authority_file(data_folder: Path) -> Path:
    """Return where the certificate of the authority lies, once HTTPS was served."""
    return data_folder / FOLDER / "authority.crt"


def fingerprint(certificate: Path) -> str:
    """Return the SHA-256 of a certificate, in the pairs of figures that phones show."""
    held = x509.load_pem_x509_certificate(certificate.read_bytes())
    return held.fingerprint(hashes.SHA256()).hex(":").upper()


def leaf(folder: Path, names: Sequence[str], now: datetime | None = None) -> Files:
    """Return files for HTTPS under the names, made or renewed where that is due.

    Raises NetworkError where they cannot be read or written.
    """
    now = now or datetime.now(UTC)
    files = Files(folder / "leaf.pem", folder / "leaf.key", folder / "authority.crt")
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        authority = _authority(folder, now)
        if not _holds(files, authority, names, now):
            _make_leaf(files, authority, names, now)
    except (OSError, ValueError) as error:
        raise NetworkError(f"The HTTPS files in {folder} cannot be used: {error}.") from error
    return files


def _authority(folder: Path, now: datetime) -> _Signer:
    certificate, key = folder / "authority.crt", folder / "authority.key"
    if not certificate.exists():
        _make_authority(certificate, key, now)
    private = serialization.load_pem_private_key(key.read_bytes(), None)
    if not isinstance(private, ec.EllipticCurvePrivateKey):
        raise ValueError("the authority's key is of another kind")
    return _Signer(x509.load_pem_x509_certificate(certificate.read_bytes()), private)


def _make_authority(certificate: Path, key: Path, now: datetime) -> None:
    private = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, f"jobnotes shop {now:%Y-%m-%d}")])
    only_leaves = x509.BasicConstraints(ca=True, path_length=0)
    made = (
        _begun(name, name, private.public_key(), now, AUTHORITY_LASTS)
        .add_extension(only_leaves, critical=True)
        .add_extension(_usage(signs=True), critical=True)
        .add_extension(_key_name(private.public_key()), critical=False)
        .sign(private, hashes.SHA256())
    )
    _write_key(key, private)
    certificate.write_bytes(made.public_bytes(serialization.Encoding.PEM))


def _make_leaf(files: Files, authority: _Signer, names: Sequence[str], now: datetime) -> None:
    private = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, names[0][:64])])
    issuer = authority.certificate.subject
    serves = x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH])
    made = (
        _begun(name, issuer, private.public_key(), now, LEAF_LASTS)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_usage(signs=False), critical=True)
        .add_extension(serves, critical=False)
        .add_extension(_signed_by(authority), critical=False)
        .add_extension(x509.SubjectAlternativeName([_named(n) for n in names]), critical=False)
        .sign(authority.key, hashes.SHA256())
    )
    _write_key(files.key, private)
    chain = (made, authority.certificate)
    pem = b"".join(one.public_bytes(serialization.Encoding.PEM) for one in chain)
    files.certificate.write_bytes(pem)


def _begun(
    subject: x509.Name,
    issuer: x509.Name,
    key: ec.EllipticCurvePublicKey,
    now: datetime,
    lasts: timedelta,
) -> x509.CertificateBuilder:
    """Begin a certificate; its whole span, the early day included, is what phones measure."""
    begins = now - _EARLY
    return x509.CertificateBuilder(
        issuer, subject, key, x509.random_serial_number(), begins, begins + lasts
    )


def _key_name(key: ec.EllipticCurvePublicKey) -> x509.SubjectKeyIdentifier:
    """Name a key by its hash, so that chains are built by keys (RFC 5280, 4.2.1.1 and 4.2.1.2)."""
    return x509.SubjectKeyIdentifier.from_public_key(key)


def _signed_by(authority: _Signer) -> x509.AuthorityKeyIdentifier:
    name = _key_name(authority.key.public_key())
    return x509.AuthorityKeyIdentifier.from_issuer_subject_key_identifier(name)


def _usage(*, signs: bool) -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=not signs, content_commitment=False, key_encipherment=False,
        data_encipherment=False, key_agreement=False, key_cert_sign=signs, crl_sign=signs,
        encipher_only=False, decipher_only=False,
    )  # fmt: skip


def _named(name: str) -> x509.GeneralName:
    try:
        return x509.IPAddress(ipaddress.ip_address(name))
    except ValueError:
        return x509.DNSName(name)


def _holds(files: Files, authority: _Signer, names: Sequence[str], now: datetime) -> bool:
    """Tell whether the leaf there is of this authority, of these names, and lasts long enough."""
    if not (files.certificate.exists() and files.key.exists()):
        return False
    held = x509.load_pem_x509_certificate(files.certificate.read_bytes())
    told = held.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    fits = set(told) == {_named(name) for name in names}
    lasts = held.not_valid_after_utc - now > RENEW_BEFORE
    return fits and lasts and held.issuer == authority.certificate.subject


def _write_key(path: Path, key: ec.EllipticCurvePrivateKey) -> None:
    """Write a key that only its owner can read, from the first byte on."""
    pem = key.private_bytes(
        serialization.Encoding.PEM,
        serialization.PrivateFormat.PKCS8,
        serialization.NoEncryption(),
    )
    path.unlink(missing_ok=True)
    with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as file:
        file.write(pem)
