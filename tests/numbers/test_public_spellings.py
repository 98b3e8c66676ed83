"""The spelled numbers of quantulum3, read by our grammar.

Out of scope, by a rule: lines whose numbers follow each other with neither a comma nor an "and"
between them, which quantulum3 splits by guess ("hundred and five twenty two"). What we do with
those is in test_ambiguous_numbers.py: every reading is kept, and doubt is flagged.
"""

import re

import pytest
from outside import constant, figures, quantulum

FILE = quantulum("_lang", "en_US", "tests", "extract_spellout_values.py")
PARTED = re.compile(r",|(?<!hundred) and ")


def is_parted(line, values):
    return len(PARTED.findall(line)) >= len(values) - 1


def cases():
    for line, values in constant(FILE, "TEST_CASES"):
        if is_parted(line, values):
            yield pytest.param(line, values, id=line)


@pytest.mark.parametrize(("line", "values"), list(cases()))
def test_every_spelled_number_of_a_line_is_read(line, values):
    found = figures(line)
    assert len(found) == len(values)
    for figure, value in zip(found, values, strict=True):
        assert float(value) in [float(option.value) for option in figure.low.options]
