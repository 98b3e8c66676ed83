"""The office's pages about the shop itself: accounts, settings, spec book, language."""

from io import BytesIO

import pytest
from PIL import Image
from web_shop import PASSWORD

from jobnotes import toml_file
from jobnotes.settings import load
from jobnotes.store.people import person_named, phones
from jobnotes.web.accounts import offer_pairing

PAGES = ("/accounts", "/settings", "/spec-book")
ENTRY = {
    "field-machine": "tiller", "field-what": "battery voltage", "field-low": "12.50",
    "field-unit": "volts", "field-source": "sticker",
}  # fmt: skip


@pytest.mark.parametrize("path", PAGES)
def test_the_bench_does_not_see_the_shops_pages(technician, path):
    assert technician.get(path).status_code == 403


def sign_in_as(client, name, password):
    token = client.get("/sign-in").text.partition('name="csrf" value="')[2].partition('"')[0]
    form = {"name": name, "password": password, "csrf": token}
    return client.post("/sign-in", data=form).status_code


def test_an_account_is_made_and_may_sign_in(clerk, anybody):
    made = {"name": "Cleo", "role": "bench", "password": PASSWORD}
    assert clerk.post("/accounts", data=made).is_redirect
    assert sign_in_as(anybody, "Cleo", PASSWORD) == 303


def test_an_account_is_not_made_over_another(clerk, desk):
    before = person_named(desk.store, "Bo")
    made = {"name": "Bo", "role": "bench", "password": "another long password"}
    assert clerk.post("/accounts", data=made).status_code == 409
    assert person_named(desk.store, "Bo") == before


@pytest.mark.parametrize("wrong", [{"password": "short"}, {"role": "owner"}, {"name": " "}])
def test_a_weak_account_is_not_made(clerk, desk, wrong):
    made = {"name": "Cleo", "role": "bench", "password": PASSWORD} | wrong
    assert clerk.post("/accounts", data=made).status_code == 422
    assert person_named(desk.store, "Cleo") is None


def test_a_locked_person_is_out_at_once_with_their_phones_and_comes_back(
    clerk, other_clerk, anybody, desk
):
    offer_pairing(desk.store, "old phone", "Bo")
    clerk.post("/accounts/lock", data={"name": "Bo"})
    assert other_clerk.get("/jobs").headers["location"] == "/sign-in"
    assert sign_in_as(anybody, "Bo", PASSWORD) == 401
    assert [phone.state for phone in phones(desk.store)] == ["revoked"]
    clerk.post("/accounts/unlock", data={"name": "Bo"})
    assert sign_in_as(anybody, "Bo", PASSWORD) == 303


def test_a_new_password_takes_the_place_of_the_old(clerk, anybody):
    clerk.post("/accounts/password", data={"name": "Bo", "password": "quite another password"})
    assert sign_in_as(anybody, "Bo", PASSWORD) == 401
    assert sign_in_as(anybody, "Bo", "quite another password") == 303


def test_a_removed_person_is_out(clerk, other_clerk, desk):
    assert clerk.post("/accounts/remove", data={"name": "Bo"}).is_redirect
    assert person_named(desk.store, "Bo") is None
    assert other_clerk.get("/jobs").headers["location"] == "/sign-in"


@pytest.mark.parametrize("step", ["lock", "remove"])
def test_nobody_shuts_themselves_out(clerk, desk, step):
    assert clerk.post(f"/accounts/{step}", data={"name": "Ada"}).status_code == 409
    assert clerk.get("/jobs").status_code == 200


def state(desk, name):
    return toml_file.seen(desk.settings.data_folder / name)


def test_settings_hold_at_once_and_after_a_new_start(clerk, desk):
    form = {"field-shop.name": "Pier Repairs", "field-print_prices": "yes"}
    assert clerk.post("/settings", data=form | {"state": ""}).is_redirect
    assert "Pier Repairs</p>" in clerk.get("/jobs").text
    assert load(desk.settings.data_folder).print_prices


def test_settings_that_two_clerks_change_are_not_overwritten(clerk, other_clerk, desk):
    old = {"state": state(desk, "settings.toml")}
    other_clerk.post("/settings", data={"field-shop.name": "Pier Repairs", **old})
    answer = clerk.post("/settings", data={"field-shop.name": "Dock Repairs", **old})
    assert answer.status_code == 422
    assert 'value="Dock Repairs"' in answer.text
    assert load(desk.settings.data_folder).shop.name == "Pier Repairs"


@pytest.mark.parametrize("wrong", [{"field-page_size": "A5"}, {"field-link_days": "many"}])
def test_a_setting_that_cannot_be_used_is_refused(clerk, desk, wrong):
    assert clerk.post("/settings", data={"state": "", **wrong}).status_code == 422
    assert desk.settings.page_size == "A4"


def test_the_database_is_not_set_by_the_page(clerk, desk):
    clerk.post(
        "/settings", data={"state": "", "field-database": "sqlite:///x", "field-technician": "R"}
    )
    assert (desk.settings.technician, desk.settings.database) == ("R", "")


def test_a_logo_is_drawn_anew_and_stands_on_the_report(clerk, desk, job):
    drawn = BytesIO()
    Image.new("RGB", (40, 20), "navy").save(drawn, "JPEG")
    files = {"logo": ("x.jpg", drawn.getvalue())}
    assert clerk.post("/settings", data={"state": ""}, files=files).is_redirect
    assert desk.shop().logo.startswith(b"\x89PNG")


def test_a_logo_that_is_no_picture_is_refused(clerk, desk):
    files = {"logo": ("x.png", b"<svg onload=alert(1)>")}
    assert clerk.post("/settings", data={"state": ""}, files=files).status_code == 422
    assert desk.settings.shop.logo == ""


def test_an_entry_of_the_spec_book_is_used_by_the_next_check(clerk, desk, job):
    assert clerk.post("/spec-book", data=ENTRY | {"state": ""}).is_redirect
    assert "12.50" in clerk.get("/spec-book").text
    (entry,) = desk.spec_book()
    assert (entry.what, entry.unit) == ("battery voltage", "V")
    changed = desk.review(job.id, lambda held: held)
    assert [spec.what for spec in changed.booked] == ["battery voltage"]


def test_an_entry_that_cannot_be_used_is_refused_and_kept_in_the_form(clerk, desk):
    answer = clerk.post("/spec-book", data=ENTRY | {"state": "", "field-unit": "cubits"})
    assert answer.status_code == 422
    assert 'value="cubits"' in answer.text
    assert desk.spec_book() == ()


def test_an_entry_is_changed_and_taken_out(clerk, desk):
    clerk.post("/spec-book", data=ENTRY | {"state": ""})
    now = {"entry": "0", "state": state(desk, "spec_book.toml")}
    clerk.post("/spec-book", data=ENTRY | now | {"field-high": "13"})
    assert f"{desk.spec_book()[0].high}" == "13"
    assert clerk.post("/spec-book/drop", data=now).status_code == 409
    clerk.post("/spec-book/drop", data=now | {"state": state(desk, "spec_book.toml")})
    assert desk.spec_book() == ()


@pytest.mark.parametrize("path", ["/spec-book", "/spec-book/drop"])
def test_an_entry_that_is_not_there_is_not_found(clerk, path):
    assert clerk.post(path, data=ENTRY | {"entry": "7", "state": ""}).status_code == 404


def test_a_book_that_somebody_broke_by_hand_is_said_so(clerk, desk):
    desk.spec_book_file.write_text("[[spec]]\nwhat = 3\n")
    answer = clerk.get("/spec-book")
    assert answer.status_code == 422
    assert "Entry 1 of the spec book" in answer.text
