"""Whatever is heard, extraction ends, and every fact points at words."""

from hypothesis import given, settings
from hypothesis import strategies as st

SHOP = [
    "the",
    "a",
    "no",
    "not",
    "is",
    "was",
    "it",
    "that",
    "and",
    "so",
    "in",
    "on",
    "off",
    ",",
    ".",
] + ["belt", "pump", "plug", "new", "worn", "torn", "pulled", "fitted", "one", "two"]


@settings(max_examples=60, deadline=None)
@given(st.lists(st.text(min_size=1, max_size=60), min_size=1, max_size=5))
def test_any_unicode_is_read_without_an_error(hear, lines):
    said = [line for line in lines if line.split()]
    if said:
        hear("finding", *[" ".join(line.split()) for line in said])


@settings(max_examples=150, deadline=None)
@given(st.lists(st.sampled_from(SHOP), min_size=1, max_size=30))
def test_any_order_of_shop_words_is_read_without_an_error(hear, spoken):
    for kind in ("finding", "action", "verification"):
        assert all(fact.evidence for fact in hear(kind, " ".join(spoken)))


def test_a_long_talk_without_a_full_stop_is_read_to_its_end(hear):
    spoken = "pulled the cover the belt is worn and the pulley is bent " * 2000
    assert hear("action", spoken + "then replaced the idler")
