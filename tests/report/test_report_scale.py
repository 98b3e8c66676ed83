"""The scale: where marks and ticks stand, and that words never cover each other."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reportlab.pdfbase.pdfmetrics import stringWidth

from jobnotes.report import fonts
from jobnotes.report.scale import SIZE, drawing, labels, position, span
from jobnotes.report.story import Limits, Measure, Point

fonts.load()
finite = st.floats(min_value=-1e12, max_value=1e12, allow_nan=False)


def measure(values: list[float], low: float | None, high: float | None) -> Measure:
    limits = Limits("", low, high, str(low), str(high))
    points = tuple(Point(f"place {n}", str(v), str(v), v) for n, v in enumerate(values))
    return Measure("tension", "", points, limits, ())


@given(st.lists(finite, min_size=1, max_size=6), finite, finite)
def test_every_mark_and_tick_stands_on_the_line(values, one, other):
    drawn = measure(values, min(one, other), max(one, other))
    ends = span(drawn, drawn.limits)
    places = [position(value, ends, 300.0) for value in (*values, one, other)]
    assert all(0 <= place <= 300 for place in places)


def test_a_higher_value_stands_further_right():
    drawn = measure([3.5, 7.2], 6.0, None)
    ends = span(drawn, drawn.limits)
    assert position(3.5, ends, 300) < position(6.0, ends, 300) < position(7.2, ends, 300)


def test_equal_values_and_limits_can_be_drawn():
    drawn = measure([5.0], 5.0, 5.0)
    assert drawing(drawn, drawn.limits, 300.0).height > 0


@given(st.lists(st.tuples(st.floats(0, 300), st.text("abc 12", max_size=30)), max_size=8))
def test_labels_never_touch(texts):
    boxes = [
        (label.row, label.left, label.left + stringWidth(label.text, fonts.SANS, SIZE))
        for label in labels(texts, 300)
    ]
    for n, (row, left, right) in enumerate(boxes):
        others = [box for box in boxes[:n] if box[0] == row]
        assert all(right <= other[1] or left >= other[2] for other in others)


@pytest.mark.parametrize("x", [0.0, 300.0])
def test_labels_stay_inside_the_drawing(x):
    (label,) = labels([(x, "at least 12.4 V")], 300)
    assert label.left >= 0
    assert label.left + stringWidth(label.text, fonts.SANS, SIZE) <= 300.01
