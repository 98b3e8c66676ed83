import pytest
from heard import heard

from jobnotes.record import Part


def parts(*lines):
    return heard(Part, *lines)


def told(*lines):
    return [(part.number, part.name, part.status) for part in parts(*lines)]


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        (["fitted a water pump, w p dash four four"], ("WP-44", "water pump", "installed")),
        (["quoted him a fuel pump, f p dash nine one"], ("FP-91", "fuel pump", "quoted")),
        (["fuel pump, f p dash nine one, on back order"], ("FP-91", "fuel pump", "ordered")),
        (["reused the mounting bolts"], ("", "mounting bolts", "reused")),
        (["new drive belt on"], ("", "drive belt", "installed")),
        (["air filter was filthy, changed it"], ("", "air filter", "installed")),
        (["threw the old pulley in the bin"], ("", "old pulley", "discarded")),
        (["idler spring looks fine, using it again"], ("", "idler spring", "reused")),
        (["fuel pump is f p dash nine one"], ("FP-91", "fuel pump", "installed")),
        (["fuel pump is f p nine one", "put that in"], ("FP91", "fuel pump", "installed")),
        (["fuel pump number f p nine one", "pump's in"], ("FP91", "fuel pump", "installed")),
        (["new fuel pump in", "pump is f p nine one"], ("FP91", "fuel pump", "installed")),
        (["new thermostat, t s nine one", "that's on order"], ("TS91", "thermostat", "ordered")),
    ],
)
def test_a_part_with_what_became_of_it(lines, expected):
    number, name, status = expected
    found = [part for part in told(*lines) if part[0] == number]
    assert len(found) == 1
    assert found[0][2] == status
    assert set(found[0][1].split()) & set(name.split())


def test_both_means_the_last_two():
    said = ("fan is w f dash one one", "shroud is w s dash two two", "fitted both")
    assert [part[2] for part in told(*said)] == ["installed", "installed"]


def test_a_number_said_again_is_one_part():
    said = ("starter is w q seven seven one", "again that's w q seven seven one")
    found = parts(*said)
    assert len(found) == 1
    assert len([e for e in found[0].evidence if "seven seven one" in e.text]) == 2


def test_the_number_that_was_replaced_is_only_mentioned():
    said = ("put in a valve kit, w v dash one oh eight", "that replaces w v dash one oh three")
    found = {part.number: part for part in parts(*said)}
    assert found["WV-108"].supersedes == "WV-103"
    assert found["WV-103"].status == "mentioned"


def test_a_last_group_said_alone_completes_the_number():
    said = "belt is w b dash four four dash oh one, supersedes to dash oh three"
    assert [part.number for part in parts(said)] == ["WB-44-01", "WB-44-03"]


def test_the_price_is_kept_for_the_office():
    assert parts("quoted a coil, w c dash nine, sixty-two dollars")[0].price == "sixty-two dollars"


def test_the_quantity_is_kept():
    assert parts("fitted two new shear pins, four dash one two two one")[0].quantity == 2


def test_figures_alone_are_a_part_number_where_they_are_named_so():
    assert parts("bearing part number six one four two oh nine")[0].number == "614209"


@pytest.mark.parametrize(
    "line",
    [
        "his number is five five five oh one two three",
        "supply at one fifty so delta twenty",
        "serial number w x four four one nine",
        "needs a new drive belt before spring",
        "didn't replace the filter",
        "customer fitted a battery himself",
        "if it comes back fit a new regulator",
        "ten w thirty oil",
        "put the cover back on",
        "stuck in the holder",
    ],
)
def test_what_is_no_part_of_this_job(line):
    assert parts(line) == []


def test_a_letter_that_may_be_a_nought_is_flagged():
    assert [flag.code for flag in parts("fitted a relay, w o four four")[0].flags] == [
        "letter-or-nought"
    ]


def test_a_part_number_taken_back_is_no_part():
    said = "belt is w b dash two, correction, w b dash three"
    assert [part.number for part in parts(said)] == ["WB-3"]
