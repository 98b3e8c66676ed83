"""What was measured proves what was found: once, and where it fits best."""

from report_jobs import SHOP, Bench

from jobnotes.record import Finding
from jobnotes.report.content import story


def found(bench: Bench) -> list[str]:
    sections = story(bench.job(), SHOP, draft=False).sections
    lines = [b.sentence.text for part in sections if part.key == "found" for b in part.blocks]
    return [line.replace("\N{NO-BREAK SPACE}", " ") for line in lines]


def test_a_reading_proves_the_one_finding_that_it_fits_best():
    bench = Bench()
    bench.say("plug is sooty and its gap is worn open to forty two thou")
    bench.reading("spark plug gap", "42", "thou")
    bench.fact(Finding, what="spark plug", state_found="sooty")
    bench.fact(Finding, what="spark plug gap", state_found="worn open")
    assert found(bench) == [
        "The spark plug was sooty.",
        "The spark plug gap was worn open. We measured 42 thou (1.07 mm).",
    ]


def test_a_reading_is_named_as_far_as_the_finding_does_not_name_it():
    bench = Bench()
    bench.say("the plug is black gap is zero point nine five")
    bench.reading("spark plug gap", "0.95", "mm")
    bench.fact(Finding, what="spark plug", state_found="black")
    assert found(bench) == ["The spark plug was black. We measured a gap of 0.95 mm."]


def test_a_reading_whose_name_goes_on_otherwise_is_named_in_full():
    bench = Bench()
    bench.say("leakdown is eight percent pushrods forty four")
    bench.reading("pushrods leakdown", "44", "percent")
    bench.fact(Finding, what="leakdown", state_found="high")
    assert found(bench) == ["The leakdown was high. We measured 44 % (pushrods leakdown)."]


def test_limits_that_hold_for_both_readings_are_told_once():
    bench = Bench()
    bench.say("speed hunts from forty one hundred to forty nine fifty should be forty five hundred")
    bench.reading("engine speed", "4100", "rpm")
    bench.reading("engine speed", "4950", "rpm")
    bench.spec("engine speed", "4400", "4600", "rpm")
    bench.fact(Finding, what="engine", state_found="hunting")
    assert found(bench) == [
        "The engine was hunting. We measured a speed of 4100 rpm and 4950 rpm; "
        "it should be 4,400 rpm to 4,600 rpm."
    ]


def test_what_was_found_not_to_be_so_is_not_proven_by_a_figure():
    bench = Bench()
    bench.say("no play measured two mil")
    bench.reading("shaft play", "2", "mm")
    bench.fact(Finding, what="shaft", state_found="play", negated=True)
    assert found(bench) == ["The shaft had no play."]
