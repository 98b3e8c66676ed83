"""HTTPS within the shop, and what is refused without it."""

import ssl
import stat
from datetime import UTC, datetime, timedelta

import pytest
from cryptography import x509

from jobnotes.errors import AccessError, NetworkError
from jobnotes.settings import Settings
from jobnotes.web.authority import LEAF_LASTS, RENEW_BEFORE, leaf
from jobnotes.web.serve import is_here, serve

NAMES = ("shop.local", "192.0.2.7")
NOW = datetime.now(UTC)


def certificate(path):
    return x509.load_pem_x509_certificate(path.read_bytes())


def test_a_browser_that_trusts_the_authority_accepts_the_leaf(tmp_path):
    files = leaf(tmp_path, NAMES)
    server = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    server.load_cert_chain(files.certificate, files.key)
    client = ssl.create_default_context(cafile=str(files.authority))
    to_server, to_client = ssl.MemoryBIO(), ssl.MemoryBIO()
    there = server.wrap_bio(to_server, to_client, server_side=True)
    here = client.wrap_bio(to_client, to_server, server_hostname="shop.local")
    for _ in range(4):
        for end in (here, there):
            try:
                end.do_handshake()
            except ssl.SSLWantReadError:
                continue
    assert here.getpeercert()["subjectAltName"][0] == ("DNS", "shop.local")


def test_the_leaf_lasts_no_longer_than_phones_accept(tmp_path):
    held = certificate(leaf(tmp_path, NAMES).certificate)
    assert held.not_valid_after_utc - held.not_valid_before_utc <= timedelta(days=825)


def test_the_leaf_is_kept_until_it_is_due_and_then_renewed_under_the_same_authority(tmp_path):
    first = leaf(tmp_path, NAMES, NOW)
    before, authority = first.certificate.read_bytes(), first.authority.read_bytes()
    assert leaf(tmp_path, NAMES, NOW + timedelta(days=30)).certificate.read_bytes() == before
    late = NOW + LEAF_LASTS - RENEW_BEFORE
    assert leaf(tmp_path, NAMES, late).certificate.read_bytes() != before
    assert first.authority.read_bytes() == authority


def test_a_new_name_gets_a_new_leaf(tmp_path):
    before = leaf(tmp_path, NAMES).certificate.read_bytes()
    assert leaf(tmp_path, ("other.local",)).certificate.read_bytes() != before


def test_only_its_owner_reads_a_key(tmp_path):
    leaf(tmp_path, NAMES)
    for key in tmp_path.glob("*.key"):
        assert stat.S_IMODE(key.stat().st_mode) == 0o600


@pytest.mark.parametrize("host", ["127.0.0.1", "::1", "localhost"])
def test_this_machine_needs_no_https(host):
    assert is_here(host)


@pytest.mark.parametrize("host", ["0.0.0.0", "192.168.1.4", "shop.local"])
def test_another_address_is_not_served_without_a_name_for_https(desk, host):
    with pytest.raises(NetworkError):
        serve(desk, host, 8742, "")


def test_nothing_is_served_before_somebody_may_sign_in(tmp_path):
    from jobnotes.desk import open_desk

    with pytest.raises(AccessError):
        serve(open_desk(Settings(data_folder=tmp_path)), "127.0.0.1", 8742, "")
