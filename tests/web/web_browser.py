"""A real server and a real browser for the tests of the pages."""

import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager

import uvicorn
from web_shop import PASSWORD

from jobnotes.web.app import build
from jobnotes.web.site import Site

LEAST_PX = 48


@contextmanager
def served(site: Site) -> Iterator[str]:
    """Serve a site on a free port of this machine."""
    running = uvicorn.Server(uvicorn.Config(build(site), port=0, log_level="error"))
    thread = threading.Thread(target=running.run)
    thread.start()
    while not running.started:
        time.sleep(0.05)
    port = running.servers[0].sockets[0].getsockname()[1]
    yield f"http://127.0.0.1:{port}"
    running.should_exit = True
    thread.join()


def signed_in_page(browser, server, name, **options):
    """Open a page of a browser of its own and sign in by the form."""
    page = browser.new_context(base_url=server, **options).new_page()
    page.set_default_timeout(60_000)
    page.goto("/sign-in")
    page.fill("#name", name)
    page.fill("#password", PASSWORD)
    page.press("#password", "Enter")
    page.wait_for_url(f"{server}/{'bench' if name == 'Rune' else 'jobs'}")
    return page


def too_small(page):
    """Return what is pressed or typed into and is smaller than a fingertip; links in text may be.

    A link within a line of text is left out, as WCAG 2.2 (2.5.8) does.
    """
    return page.evaluate(
        """(least) => [...document.querySelectorAll(
            'button, .button, summary, select, textarea, .pick, nav a, .job, .add, .heard a, '
            + 'input:not([type=hidden]):not([type=radio])')]
        .map((one) => [one.outerHTML.slice(0, 90), one.getBoundingClientRect()])
        .filter(([, box]) => box.width && Math.round(Math.min(box.height, box.width)) < least)
        .map(([text, box]) => `${text} ${box.width}x${box.height}`)""",
        LEAST_PX,
    )


def clipped(page):
    """Return what hangs out of the window or whose words do not fit into it."""
    return page.evaluate(
        """() => [...document.querySelectorAll('body *')]
        .filter((one) => !one.closest('.hidden, .skip, svg, audio, option')
            && one.getClientRects().length)
        .filter((one) => one.getBoundingClientRect().right > innerWidth + 1
            || (getComputedStyle(one).overflowX !== 'visible' && !one.matches('input, select')
                && one.scrollWidth > one.clientWidth + 1))
        .map((one) => one.outerHTML.slice(0, 90))"""
    )
