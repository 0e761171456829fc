"""A certificate authority of the notebook's own, so that a phone can know this machine by HTTPS.

Phones keep a page for use without a network only if it came by HTTPS that they trust. No public
authority signs for a machine in a household's network; so haulm makes an authority whose
certificate the phone is told to trust once. It may sign for addresses of private networks and for
names under ``.local`` alone: whoever got hold of it could not pass for a bank.

References
----------
RFC 5280, section 4.2.1.10: name constraints. RFC 1918 and RFC 3927: private and link-local
addresses. RFC 6762: names under ``.local``. Apple, "Requirements for trusted certificates in iOS 13
and macOS 10.15": server certificates last 825 days at most and name their use.
"""

from dataclasses import dataclass
from datetime import datetime, timedelta
from ipaddress import IPv4Address, IPv4Network
from pathlib import Path

try:
    from cryptography import x509
    from cryptography.hazmat.primitives import hashes, serialization
    from cryptography.hazmat.primitives.asymmetric import ec
    from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID
except ImportError:
    # Not every machine has a build of it; phones can be served without, but not installed.
    THERE = False
else:
    THERE = True

from haulm.web.phone_door.keys import write_for_us_alone

PRIVATE = tuple(
    IPv4Network(network)
    for network in (
        "10.0.0.0/8",
        "172.16.0.0/12",
        "192.168.0.0/16",
        "169.254.0.0/16",
        "127.0.0.0/8",
    )
)
LOCAL = "local"
AUTHORITY_LASTS = timedelta(days=3650)
SERVER_LASTS = timedelta(days=397)
CLOCKS_APART = timedelta(days=2)
"""A phone whose clock is behind by less than this still takes the certificate as begun."""


@dataclass(frozen=True, slots=True)
class Certified:
    """Files by which a server shows who it is, and what the phone is told to trust.

    Attributes
    ----------
    chain, key
        The server's certificate and its key.
    authority
        The certificate to trust, as a phone takes it (DER).
    fingerprint
        Its SHA-256, in groups of four, to compare by eye.
    """

    chain: Path
    key: Path
    authority: bytes
    fingerprint: str


def is_private(address: str) -> bool:
    """Whether an address lies in a private network, or is this machine's own."""
    return any(IPv4Address(address) in network for network in PRIVATE)


def certify(folder: Path, address: str, name: str, whose: str, now: datetime) -> Certified:
    """Certify a server under an address and a name, by the authority in a folder.

    The authority is made when it is not there yet, or runs out within the life of what it signs.

    Parameters
    ----------
    folder
        Where the authority and the server's files lie, for the grower's eyes alone.
    address, name
        Under what the server is reached: an address of a private network, a name under ``.local``.
    whose
        Whose authority it is, for the phone's list.
    now
        The time, with its zone.
    """
    authority, signing = _authority(folder, whose, now)
    key = ec.generate_private_key(ec.SECP256R1())
    names = [x509.IPAddress(IPv4Address(address)), x509.DNSName(name)]
    signed = (
        _begun(f"haulm {name}", now, SERVER_LASTS)
        .issuer_name(authority.subject)
        .public_key(key.public_key())
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(x509.SubjectAlternativeName(names), critical=False)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(_usage(signs_certificates=False), critical=True)
        .add_extension(
            x509.AuthorityKeyIdentifier.from_issuer_public_key(signing.public_key()), critical=False
        )
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .sign(signing, hashes.SHA256())
    )
    chain_file, key_file = folder / "server.pem", folder / "server-key.pem"
    write_for_us_alone(chain_file, _pem(signed) + _pem(authority))
    write_for_us_alone(key_file, _key_pem(key))
    seen = authority.fingerprint(hashes.SHA256()).hex().upper()
    groups = " ".join(seen[at : at + 4] for at in range(0, len(seen), 4))
    der = authority.public_bytes(serialization.Encoding.DER)
    return Certified(chain_file, key_file, der, groups)


def _authority(
    folder: Path, whose: str, now: datetime
) -> "tuple[x509.Certificate, ec.EllipticCurvePrivateKey]":
    """Give the authority that lies in a folder, or make it."""
    certificate_file, key_file = folder / "authority.pem", folder / "authority-key.pem"
    if certificate_file.exists() and key_file.exists():
        certificate = x509.load_pem_x509_certificate(certificate_file.read_bytes())
        key = serialization.load_pem_private_key(key_file.read_bytes(), password=None)
        lasts = certificate.not_valid_after_utc > now + SERVER_LASTS
        if lasts and isinstance(key, ec.EllipticCurvePrivateKey):
            return certificate, key
    key = ec.generate_private_key(ec.SECP256R1())
    allowed = [x509.IPAddress(network) for network in PRIVATE] + [x509.DNSName(LOCAL)]
    begun = _begun(f"haulm, {whose}", now, AUTHORITY_LASTS)
    certificate = (
        begun.issuer_name(_named(f"haulm, {whose}"))
        .public_key(key.public_key())
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_usage(signs_certificates=True), critical=True)
        .add_extension(x509.NameConstraints(allowed, None), critical=True)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .sign(key, hashes.SHA256())
    )
    write_for_us_alone(key_file, _key_pem(key))
    write_for_us_alone(certificate_file, _pem(certificate))
    return certificate, key


def _begun(name: str, now: datetime, lasts: timedelta) -> "x509.CertificateBuilder":
    return (
        x509.CertificateBuilder()
        .subject_name(_named(name))
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - CLOCKS_APART)
        .not_valid_after(now - CLOCKS_APART + lasts)
    )


def _named(name: str) -> "x509.Name":
    return x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, name[:64])])


def _usage(*, signs_certificates: bool) -> "x509.KeyUsage":
    return x509.KeyUsage(
        digital_signature=not signs_certificates,
        key_cert_sign=signs_certificates,
        crl_sign=signs_certificates,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        encipher_only=False,
        decipher_only=False,
    )


def _pem(certificate: "x509.Certificate") -> bytes:
    return bytes(certificate.public_bytes(serialization.Encoding.PEM))


def _key_pem(key: "ec.EllipticCurvePrivateKey") -> bytes:
    written = key.private_bytes(
        serialization.Encoding.PEM,
        serialization.PrivateFormat.PKCS8,
        serialization.NoEncryption(),
    )
    return bytes(written)
