"""The billing table: what is in it, and that a spreadsheet takes it for text and figures."""

import csv
from decimal import Decimal
from io import StringIO

import pytest
from hypothesis import given
from hypothesis import strategies as st
from report_jobs import FLAG, Bench, changed, repair

from jobnotes.record import Job, Labour, Machine, Part, State
from jobnotes.report.billing import billing_csv


def lines(job: Job) -> list[dict[str, str]]:
    return list(csv.DictReader(StringIO(billing_csv(job), newline="")))


def bench(**part: object) -> Bench:
    made = Bench()
    made.say("two plugs")
    made.fact(Part, **{"number": "KL-4", "name": "plug", "status": "installed", **part})
    return made


def test_parts_and_labour_are_lines_in_the_order_said():
    told = [(line["line"], line["number"], line["name"]) for line in lines(repair().job())]
    assert told == [
        ("part", "LB-771-C", "drive belt"),
        ("part", "", "idler pulley"),
        ("labour", "", ""),
    ]


def test_a_part_has_its_fate_its_count_and_its_price_as_said():
    job = bench(quantity=2, price="nineteen fifty each", supersedes="KL-3").job()
    (line,) = lines(job)
    assert (line["status"], line["quantity"], line["price as said"]) == (
        "installed",
        "2",
        "nineteen fifty each",
    )
    assert line["in place of"] == "KL-3"


def test_labour_is_in_minutes_with_all_its_digits():
    made = Bench()
    made.say("ninety seven and a half minutes")
    made.fact(Labour, minutes=Decimal("97.50"), as_said="97 1/2 minutes")
    (line,) = lines(made.job())
    assert line["minutes"] == "97.50"


def test_a_rejected_part_is_not_billed():
    assert lines(changed(bench().job(), "f1", state=State.REJECTED)) == []


def test_a_line_in_doubt_says_why():
    (line,) = lines(changed(bench().job(), "f1", flags=(FLAG,), state=State.PROPOSED))
    assert (line["doubt"], line["review"]) == (FLAG.why, "proposed")


def test_where_it_was_said_is_told():
    made = Bench()
    made.say("and " * 160)
    made.say("one plug")
    made.fact(Part, number="KL-4", name="plug", status="installed")
    (line,) = lines(made.job())
    assert (line["recording"], line["at"]) == ("bench.m4a", "1:20")


def test_lines_end_as_rfc_4180_has_it():
    told = billing_csv(bench(name='plug, "hot"\nrange').job())
    assert told.endswith("\r\n")
    assert '"plug, ""hot""\nrange"' in told  # RFC 4180, 2.6 and 2.7


@pytest.mark.parametrize("sign", ["=", "+", "-", "@", "\t", "\r", "\n", "＝"])
def test_no_cell_is_taken_for_a_formula(sign):
    # OWASP, "CSV Injection": characters that begin a formula
    evil = f'{sign}HYPERLINK("http://a.invalid";"x")'
    job = bench(number=evil, name=evil, price=evil, supersedes=evil).job(
        customer=evil, machine=Machine(description=evil, serial=evil)
    )
    (line,) = lines(job)
    cells = [cell for cell in line.values() if "HYPERLINK" in cell]
    assert len(cells) == 7
    assert all(cell == f"'{evil}" for cell in cells)


@given(name=st.text())
def test_every_text_comes_back_from_the_table(name: str) -> None:
    (line,) = lines(bench(name=name).job())
    assert line["name"].removeprefix("'") == name.removeprefix("'")
