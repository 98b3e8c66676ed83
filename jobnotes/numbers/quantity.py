"""A figure as found: a number or a range with its unit, its bounds and its role."""

from dataclasses import dataclass
from typing import Literal

from jobnotes.numbers.number import Number

Bound = Literal["", "range", "least", "most", "over", "under"]


Role = Literal["", "price", "age", "times", "vague", "clock", "size", "name", "ratio", "phone"]


@dataclass(frozen=True, slots=True)
class Quantity:
    """Tokens start to stop (stop excluded): a number, or a range, with its unit and its bounds.

    `low` and `high` are the same number unless `bound` is "range"; `units` holds every code that
    the unit said can stand for, likeliest first, and is empty when none was said. `role` is set
    when the figure is no measurement: a price, an age, a name such as "number two", and so on.
    """

    start: int
    stop: int
    low: Number
    high: Number
    units: tuple[str, ...] = ()
    singular: bool = False
    bound: Bound = ""
    about: bool = False
    role: Role = ""
    change: bool = False
    said: str = ""

    @property
    def is_range(self) -> bool:
        """Tell a range from a single number."""
        return self.low is not self.high
