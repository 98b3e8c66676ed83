"""The office's pages in a real browser: every state without a barrier, two clerks, words, marks."""

import re
from datetime import UTC, datetime

import pytest
from PIL import Image
from web_browser import clipped, served, signed_in_page, too_small
from web_shop import fact_id, step

from jobnotes.review import entering, events
from jobnotes.web.accounts import offer_pairing

playwright = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
axe = pytest.importorskip("axe_playwright_python.sync_playwright", reason="axe is not installed")

LONG = "Tern Estate Gardens and Grounds Maintenance Partnership (Northern Division) " * 2
UNBROKEN = "Donaudampfschifffahrtsgesellschaftskapitaen" * 3


@pytest.fixture(scope="module")
def browser(chromium):
    with playwright.sync_playwright() as started:
        opened = started.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        yield opened
        opened.close()


@pytest.fixture
def server(site):
    with served(site) as address:
        yield address


@pytest.fixture
def full(desk, job):
    """The shop with long names everywhere, and links for customers on."""
    desk.set_up({"customer_links": True, "shop.name": LONG, "shop.phone": "555-0100"}, "")
    offer_pairing(desk.store, UNBROKEN, "Rune")
    desk.new(machine=UNBROKEN, customer=LONG)
    book = desk.spec_book_file
    book.write_text(
        f'[[spec]]\nmachine = "tiller"\nwhat = "{UNBROKEN}"\nlow = 1\nunit = "V"\n'
        f'source = "{LONG}"\n'
    )
    return job


def issue(desk, job, clerk):
    now = datetime.now(UTC)
    desk.review(job.id, lambda held: events.confirm_unflagged(held, "Ada", now))
    for fact in desk.load(job.id).facts:
        if fact.open_flags:
            desk.review(job.id, lambda held, f=fact: events.confirm(held, f.id, "Ada", now, True))
    assert clerk.post(f"/jobs/{job.id}/issue", data=step(desk, job.id, "issue")).is_redirect
    return re.search(r"/report/[\w-]{43}", clerk.post(f"/jobs/{job.id}/reports/1/link").text)[0]


def has_no_barrier(page, what, width):
    found = axe.Axe().run(page)
    assert found.violations_count == 0, f"{what}: {found.generate_report()}"
    assert page.evaluate("document.documentElement.scrollWidth") <= width, what
    assert clipped(page) == [], what
    assert too_small(page) == [], what


@pytest.mark.parametrize(
    ("scheme", "width", "language"),
    [("light", 1280, "en"), ("dark", 640, "fr"), ("light", 320, "es"), ("dark", 390, "en")],
)
def test_no_page_of_the_office_has_a_barrier_in_any_state(
    browser, server, full, clerk, desk, scheme, width, language
):
    """640 px is a window of 1280 at 200 %, 320 px one at 400 % (WCAG 2.2, 1.4.4 and 1.4.10)."""
    page = signed_in_page(
        browser, server, "Ada", color_scheme=scheme, viewport={"width": width, "height": 800},
        has_touch=True, locale=language,
    )  # fmt: skip
    here, empty = f"/jobs/{full.id}", f"/jobs/{desk.jobs()[0].id}"
    missed = f"{here}/enter?place=r1:8-12&kind=reading"
    for path in ("/jobs", "/jobs?q=nothing+has+this", here, empty, missed,
                 f"{here}/photos/p1/marks", "/phones", "/accounts", "/spec-book?entry=0",
                 "/jobs/none"):  # fmt: skip
        page.goto(path)
        assert page.get_attribute("html", "lang") == language
        has_no_barrier(page, path, width)
    for path, button in ((missed, "[value=enter]"), ("/settings", "main .main")):
        page.goto(path)
        page.evaluate("document.querySelectorAll('[name=state]').forEach((one) => one.value = 'x')")
        page.evaluate("document.querySelector('main form').noValidate = true")
        page.click(button)
        page.wait_for_selector("[role=alert]")
        has_no_barrier(page, f"error on {path}", width)
    link = issue(desk, full, clerk)
    for path in (here, link, "/report/nothing"):
        page.goto(path)
        page.evaluate("document.querySelectorAll('details').forEach((one) => one.open = true)")
        has_no_barrier(page, path, width)
    page.context.close()


def test_two_clerks_in_two_browsers_never_overwrite_each_other(browser, server, job, desk):
    ada, bo = (signed_in_page(browser, server, name) for name in ("Ada", "Bo"))
    wanted = fact_id(job, "reading", "ninety")
    for page in (ada, bo):
        page.goto(f"/jobs/{job.id}?fact={wanted}")
        page.click(f"#fact-{wanted} summary")
    bo.fill(f"#in-{wanted}-value", "72")
    bo.click(f"#fact-{wanted} [value=correct]")
    bo.wait_for_selector(f"#fact-{wanted}.settled")
    ada.fill(f"#in-{wanted}-value", "71.5")
    ada.click(f"#fact-{wanted} [value=correct]")
    ada.wait_for_selector("[role=alert]")
    assert "Bo: put right" in ada.inner_text("main")
    assert ada.input_value("input[name=field-value]") == "71.5"
    assert ada.evaluate("document.activeElement.id") == "main"
    assert axe.Axe().run(ada).violations_count == 0
    fact = next(one for one in desk.load(job.id).facts if one.id == wanted)
    assert f"{fact.value}" == "72"
    ada.click("main form button")
    ada.wait_for_selector(f"#fact-{wanted}.settled")
    fact = next(one for one in desk.load(job.id).facts if one.id == wanted)
    assert f"{fact.value}" == "71.5"
    for page in (ada, bo):
        page.context.close()


def test_the_link_to_add_keeps_the_words_that_were_selected_before_it(browser, server, job):
    page = signed_in_page(browser, server, "Ada")
    page.goto(f"/jobs/{job.id}")
    page.dblclick('[data-word="r1:9"]')
    page.wait_for_selector("#add-fact[href*='r1%3A9-9']")
    page.click("#add-fact")
    page.wait_for_url("**/enter?place=r1%3A9-9")
    page.context.close()


def test_a_missed_fact_is_added_from_selected_words_by_one_key(browser, server, job, desk):
    page = signed_in_page(browser, server, "Ada")
    page.goto(f"/jobs/{job.id}")
    page.evaluate(
        """() => getSelection().setBaseAndExtent(
            document.querySelector('[data-word="r1:10"]'), 0,
            document.querySelector('[data-word="r1:12"]'), 1)"""
    )
    page.keyboard.press("a")
    page.wait_for_url("**/enter?place=r1%3A10-12")
    page.click("main a[href*='kind=reading']")
    assert page.input_value("#words") == "ninety two psi"
    for name, value in (("what", "cranking"), ("value", "92"), ("unit", "psi")):
        page.fill(f"#new-{name}", value)
    page.click("[value=enter]")
    page.wait_for_selector(".fact[aria-current] >> text=cranking")
    (new,) = (fact for fact in desk.load(job.id).facts if fact.rule == "office.entered")
    assert new.evidence[0].text == "ninety two psi"
    page.context.close()


def test_without_a_mouse_words_are_chosen_by_their_breath_and_trimmed(browser, server, job, desk):
    page = signed_in_page(browser, server, "Ada")
    page.goto(f"/jobs/{job.id}")
    page.focus("a.add[href*='r1%3A13'], a.add[href*='r1:13']")
    page.keyboard.press("Enter")
    page.wait_for_url("**/enter?place=*")
    page.focus("a[href*='kind=part']")
    page.keyboard.press("Enter")
    page.wait_for_selector("#words")
    page.fill("#words", "drive belt")
    page.fill("#new-name", "drive belt")
    page.focus("[value=enter]")
    page.keyboard.press("Enter")
    page.wait_for_selector(".fact[aria-current]")
    (new,) = (fact for fact in desk.load(job.id).facts if fact.rule == "office.entered")
    assert new.evidence[0].text == "drive belt"
    page.context.close()


def test_a_mark_is_drawn_with_a_pointer_and_stands_on_the_report(browser, server, job, desk):
    page = signed_in_page(browser, server, "Ada")
    page.goto(f"/jobs/{job.id}/photos/p1/marks")
    page.check("[value=box]")
    box = page.locator("#drawing").bounding_box()
    page.mouse.move(box["x"] + box["width"] / 4, box["y"] + box["height"] / 4)
    page.mouse.down()
    page.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] * 3 / 4)
    page.mouse.up()
    page.click("[value=mark]")
    page.wait_for_selector("[value=unmark]")
    (mark,) = desk.load(job.id).photos[0].marks
    ends = (mark.left, mark.top, mark.right, mark.bottom)
    assert ends == pytest.approx((0.25, 0.25, 0.5, 0.75), abs=0.01)
    page.goto(f"/jobs/{job.id}")
    assert page.locator("#photo-p1 svg .ink").count() == 1
    page.context.close()


def test_keys_are_silent_while_one_types_and_when_they_are_turned_off(browser, server, job, desk):
    page = signed_in_page(browser, server, "Ada")
    page.goto(f"/jobs/{job.id}")
    page.keyboard.press("j")
    page.focus("#caption-p1")
    page.keyboard.type("xco")
    page.focus("#keys-on")
    page.keyboard.press("Enter")
    page.keyboard.press("x")
    page.reload()
    page.keyboard.press("x")
    page.wait_for_timeout(300)
    assert page.inner_text("#keys-on") == "Single keys are off"
    assert desk.load(job.id).events == ()
    page.context.close()


def test_a_customer_answers_on_a_phone_without_script(browser, server, full, clerk, desk):
    place = entering.span_of(full, "fitted a new drive belt")
    advice = {"text": "change the drive belt every year"}
    desk.review(
        full.id,
        lambda held: entering.enter(
            held, "recommendation", advice, place, "Ada", datetime.now(UTC)
        ),
    )
    link = issue(desk, full, clerk)
    size = {"width": 360, "height": 740}
    page = browser.new_context(base_url=server, java_script_enabled=False, viewport=size).new_page()
    page.goto(link)
    page.check("[value=yes]")
    page.fill("#name", "Jo Okafor")
    page.click("main form button")
    page.wait_for_selector("[role=status]")
    assert "Customer: yes (Jo Okafor" in page.inner_text("main")
    page.click("main a.main")
    assert "belt" in page.inner_text("body")
    page.context.close()


def test_a_logo_that_is_chosen_is_seen_in_the_draft(browser, server, job, desk, tmp_path):
    picture = tmp_path / "logo.png"
    Image.new("RGB", (40, 20), "navy").save(picture)
    page = signed_in_page(browser, server, "Ada")
    page.goto("/settings")
    page.set_input_files("#logo", picture)
    page.click("main form .main")
    page.wait_for_selector("[role=status]")
    page.goto(f"/jobs/{job.id}/draft.html")
    assert page.locator("header img").count() == 1
    page.context.close()
