"""`jobnotes serve` as a shop runs it by HTTPS: its chain, its renewal, a browser that trusts it."""

import os
import shutil
import socket
import ssl
import subprocess
import sys
import time
from datetime import UTC, datetime, timedelta

import pytest
from cryptography import x509
from cryptography.x509.verification import PolicyBuilder, Store, VerificationError
from web_shop import PASSWORD

from jobnotes.web.authority import LEAF_LASTS, RENEW_BEFORE, leaf

NAME = "localhost"
PROGRAM = "from jobnotes.cli import main; main()"


def free_port():
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        return found.getsockname()[1]


@pytest.fixture
def home(kept_shop, tmp_path):
    shutil.copytree(kept_shop, tmp_path / "shop")
    return tmp_path / "shop"


@pytest.fixture
def served(home):
    """Start the program as a user does, in a process of its own; give its port."""
    port = free_port()
    command = [sys.executable, "-c", PROGRAM, "serve", "--port", str(port), "--name", NAME]
    environment = {**os.environ, "JOBNOTES_HOME": str(home), "PYTHONUNBUFFERED": "1"}
    running = subprocess.Popen(command, env=environment, stdout=subprocess.PIPE, text=True)
    assert running.stdout.readline().strip() == f"https://{NAME}:{port}/"
    for _ in range(300):
        assert running.poll() is None, "the program ended"
        with socket.socket() as trial:
            if trial.connect_ex(("127.0.0.1", port)) == 0:
                break
        time.sleep(0.1)
    yield port
    running.terminate()
    running.wait(30)


def leaf_of(port):
    """Return the leaf that the server sends, without trusting it."""
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
    context.check_hostname, context.verify_mode = False, ssl.CERT_NONE
    with (
        socket.create_connection(("127.0.0.1", port), 30) as plain,
        context.wrap_socket(plain, server_hostname=NAME) as secure,
    ):
        return x509.load_der_x509_certificate(secure.getpeercert(binary_form=True))


def authority_of(home):
    return x509.load_pem_x509_certificate((home / "https" / "authority.crt").read_bytes())


def verifier(authority, name=NAME, at=None):
    built = PolicyBuilder().store(Store([authority]))
    return built.time(at or datetime.now(UTC)).build_server_verifier(x509.DNSName(name))


def test_the_chain_that_is_served_is_verified_under_the_shops_authority_alone(home, served):
    """`cryptography` checks it by the rules of RFC 5280 and of the CA/Browser Forum."""
    held = leaf_of(served)
    chain = verifier(authority_of(home)).verify(held, [])
    assert [one.subject for one in chain] == [held.subject, authority_of(home).subject]
    assert held.not_valid_after_utc - held.not_valid_before_utc <= timedelta(days=825)
    with pytest.raises(VerificationError):
        verifier(authority_of(home), "other.local").verify(held, [])
    after = held.not_valid_after_utc + timedelta(days=1)
    with pytest.raises(VerificationError):
        verifier(authority_of(home), at=after).verify(held, [])


def test_openssl_verifies_it_too(home, served):
    openssl = shutil.which("openssl") or pytest.skip("no openssl on this machine")
    folder = home / "https"
    command = [openssl, "verify", "-x509_strict", "-verify_hostname", NAME, "-CAfile"]
    command += [str(folder / "authority.crt"), str(folder / "leaf.pem")]
    told = subprocess.run(command, capture_output=True, text=True, check=False)
    assert (told.returncode, told.stdout.strip()) == (0, f"{folder / 'leaf.pem'}: OK"), told.stderr


def test_a_renewed_leaf_is_verified_under_the_authority_that_phones_have(tmp_path):
    first = leaf(tmp_path, (NAME,))
    installed = x509.load_pem_x509_certificate(first.authority.read_bytes())
    late = datetime.now(UTC) + LEAF_LASTS - RENEW_BEFORE
    renewed = x509.load_pem_x509_certificate(leaf(tmp_path, (NAME,), late).certificate.read_bytes())
    assert verifier(installed, at=late).verify(renewed, [])
    assert renewed.not_valid_after_utc > late + LEAF_LASTS - timedelta(days=2)


@pytest.fixture
def trusting_home(home, served, tmp_path):
    """A home whose browser trusts the shop's authority, as after installing it by hand."""
    certutil = shutil.which("certutil") or pytest.skip(
        "no certutil to install the authority with: apt-get install libnss3-tools"
    )
    store = tmp_path / "home" / ".pki" / "nssdb"
    store.mkdir(parents=True)
    database = f"sql:{store}"
    subprocess.run([certutil, "-d", database, "-N", "--empty-password"], check=True)
    authority = str(home / "https" / "authority.crt")
    command = [certutil, "-d", database, "-A", "-t", "C,,", "-n", "shop", "-i", authority]
    subprocess.run(command, check=True)
    return tmp_path / "home"


def sign_in(page, port):
    page.goto(f"https://{NAME}:{port}/sign-in")
    page.fill("#name", "Ada")
    page.fill("#password", PASSWORD)
    page.press("#password", "Enter")
    page.wait_for_url("**/jobs")


def test_a_browser_that_trusts_the_authority_signs_in(chromium, served, trusting_home):
    playwright = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
    environment = {**os.environ, "HOME": str(trusting_home)}
    with playwright.sync_playwright() as started:
        browser = started.chromium.launch(
            executable_path=chromium, args=["--no-sandbox"], env=environment
        )
        page = browser.new_page()
        sign_in(page, served)
        assert page.evaluate("isSecureContext")
        (cookie,) = [one for one in page.context.cookies() if one["name"].startswith("__Host-")]
        assert cookie["secure"]
        assert cookie["httpOnly"]
        page.goto(f"https://{NAME}:{served}/phones")
        assert "SHA-256" in page.inner_text("main")
        browser.close()


def test_a_browser_that_does_not_trust_it_is_not_let_through(chromium, served, tmp_path):
    playwright = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
    environment = {**os.environ, "HOME": str(tmp_path)}
    with playwright.sync_playwright() as started:
        browser = started.chromium.launch(
            executable_path=chromium, args=["--no-sandbox"], env=environment
        )
        with pytest.raises(playwright.Error, match="ERR_CERT_AUTHORITY_INVALID"):
            browser.new_page().goto(f"https://{NAME}:{served}/sign-in")
        browser.close()
