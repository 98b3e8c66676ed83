"""The office's page of phones: pair one by a code that is shown once, shut one out."""

from urllib.parse import urlencode

import segno
from markupsafe import Markup
from starlette.exceptions import HTTPException
from starlette.responses import Response

from jobnotes.store import people
from jobnotes.web.accounts import offer_pairing
from jobnotes.web.authority import authority_file, fingerprint
from jobnotes.web.site import Ask, go, page


def phones(ask: Ask) -> Response:
    """List the phones."""
    return _phones(ask)


def offer(ask: Ask) -> Response:
    """Show a code for a new phone, once."""
    name = ask.form.get("name", "").strip()[:80] or "phone"
    person = ask.form.get("person", "").strip()[:80] or ask.who
    code = offer_pairing(ask.desk.store, name, person)
    link = f"{str(ask.request.base_url).rstrip('/')}/pair?{urlencode({'code': code})}"
    return _phones(ask, link, name)


def revoke(ask: Ask) -> Response:
    """Shut a phone out."""
    people.revoke_phone(ask.desk.store, int(ask.part("phone")))
    return go("/phones")


def _phones(ask: Ask, link: str = "", name: str = "") -> Response:
    drawn = (
        Markup(segno.make(link, micro=False).svg_inline(scale=6, border=4, light="#fff"))
        if link
        else ""
    )
    return page(
        ask, "phones.html", phones=people.phones(ask.desk.store), link=link, drawn=drawn, name=name,
        authority=_fingerprint(ask),
    )  # fmt: skip


def authority(ask: Ask) -> Response:
    """Serve the certificate of the shop's own authority, to be installed on a phone."""
    path = authority_file(ask.desk.settings.data_folder)
    if not path.exists():
        raise HTTPException(404, "This shop has no certificate of its own yet.")
    head = {"Content-Disposition": 'attachment; filename="authority.crt"'}
    return Response(path.read_bytes(), media_type="application/x-x509-ca-cert", headers=head)


def _fingerprint(ask: Ask) -> str:
    """Return the SHA-256 of the authority's certificate as phones show it; empty without one."""
    path = authority_file(ask.desk.settings.data_folder)
    return fingerprint(path) if path.exists() else ""
