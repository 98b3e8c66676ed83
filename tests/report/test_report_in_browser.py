"""The HTML form in a real browser: an accessibility checker, narrow screens, light and dark.

Skipped where no browser is installed; everything that can be checked without one is checked in
test_report_html.py.
"""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, sync_playwright
from report_jobs import SHOP, photo_bytes
from stress_jobs import JOBS

from jobnotes.report.content import story
from jobnotes.report.html import html

NAMES = ("chromium", "chromium-browser", "google-chrome")
CHROMIUM = next((path for name in NAMES if (path := shutil.which(name))), "")
pytestmark = pytest.mark.skipif(not CHROMIUM, reason="no Chromium is installed on this machine")


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with sync_playwright() as driver:
        started = driver.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield started
        started.close()


def opened(browser: Browser, folder: Path, name: str, width: int, scheme: str) -> Page:
    file = folder / "story.html"
    file.write_text(html(story(JOBS[name](), SHOP, True), photo_bytes), "utf-8")
    page = browser.new_page(viewport={"width": width, "height": 800}, color_scheme=scheme)
    page.goto(file.as_uri())
    return page


@pytest.mark.parametrize("name", JOBS)
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_an_accessibility_checker_finds_nothing(browser, tmp_path, name, scheme):
    # axe-core, with its rules of WCAG 2 A and AA and its best practices
    page = opened(browser, tmp_path, name, 390, scheme)
    found = Axe().run(page).response["violations"]
    page.close()
    assert [(one["id"], [node["target"] for node in one["nodes"]]) for one in found] == []


def test_the_checker_finds_fault_with_a_picture_that_has_no_words(browser, tmp_path):
    page = opened(browser, tmp_path, "whole", 390, "light")
    page.evaluate("document.querySelector('img').removeAttribute('alt')")
    assert "image-alt" in {one["id"] for one in Axe().run(page).response["violations"]}
    page.close()


@pytest.mark.parametrize("name", JOBS)
@pytest.mark.parametrize("width", [320, 768, 1280])
def test_no_screen_scrolls_sideways(browser, tmp_path, name, width):
    # 320 CSS pixels: WCAG 2.2, success criterion 1.4.10
    page = opened(browser, tmp_path, name, width, "light")
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    page.close()


def test_the_page_asks_for_nothing(browser, tmp_path):
    asked = []
    file = tmp_path / "story.html"
    file.write_text(html(story(JOBS["whole"](), SHOP, False), photo_bytes), "utf-8")
    page = browser.new_page()
    page.on("request", lambda request: asked.append(request.url))
    page.goto(file.as_uri(), wait_until="networkidle")
    page.close()
    assert [url for url in asked if not url.startswith("data:")] == [file.as_uri()]


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_paper_and_ink_change_with_light_and_dark(browser, tmp_path, scheme):
    page = opened(browser, tmp_path, "whole", 390, scheme)
    paper = page.evaluate("getComputedStyle(document.body).backgroundColor")
    page.close()
    brightness = sum(int(part) for part in paper[4:-1].split(",")) / 3
    assert (brightness > 200) == (scheme == "light")
