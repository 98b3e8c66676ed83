"""How likely a number was misheard, from what three hearings gave: a logistic regression."""

import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from math import exp, inf, log
from statistics import fmean
from typing import Any

_NEAREST = 0.005  # a probability is taken as no nearer to 0 or 1 than this
_LEAST_MARGIN, _MOST_MARGIN = -4.0, 8.0  # beyond these a margin says no more


@dataclass(frozen=True)
class Opinion:
    """What another hearing has in the place of a number.

    `sure` is the mean probability of its words, none where it has no number there; `margin` is how
    clearly it told the number from the one that sounds like it, infinite where there is none.
    """

    agrees: bool
    sure: float | None = None
    margin: float = inf

    @property
    def otherwise(self) -> bool:
        """Whether it has another number there."""
        return not self.agrees and self.sure is not None


@dataclass(frozen=True)
class Evidence:
    """A number: the probabilities of its words, of its neighbours without a pause, and opinions."""

    words: tuple[float, ...]
    figures: Opinion
    other: Opinion
    before: float = 1.0
    after: float = 1.0


def doubt(number: Evidence) -> float:
    """Return the probability that a number was misheard, 0 to 1.

    The weights were fitted to 3 hours of synthetic dictation and tried on voices and noises that
    were left out of the fitting (DEVELOPERS.md).
    """
    weights: dict[str, float] = _table()["weights"]
    total = sum(weights[name] * value for name, value in _measures(number))
    return 1 / (1 + exp(-total))


def is_doubtful(number: Evidence) -> bool:
    """Tell whether a person must look.

    That is where another hearing has another number, where it was hardly told from its double, or
    where it is likely enough to be wrong.
    """
    otherwise = any(one.otherwise for one in (number.figures, number.other))
    unclear = _mean_margin(number) < float(_table()["least_margin"])
    return otherwise or unclear or doubt(number) > float(_table()["limit"])


def _measures(number: Evidence) -> Iterator[tuple[str, float]]:
    yield "constant", 1.0
    yield "sure", _log_odds(fmean(number.words))
    yield "least_sure", _log_odds(min(number.words))
    opinions = {"figures": number.figures, "other": number.other}
    for name, opinion in opinions.items():
        yield f"{name}_agree", float(opinion.agrees)
        yield f"{name}_silent", float(opinion.sure is None)
        sure = _log_odds(opinion.sure or 0.0)
        yield f"{name}_sure_of_the_same", sure if opinion.agrees else 0.0
        yield f"{name}_sure_of_another", sure if opinion.otherwise else 0.0
    agreeing = sum(opinion.agrees for opinion in opinions.values())
    yield "both_agree", float(agreeing == 2)
    yield "none_agrees", float(agreeing == 0)
    margin = _mean_margin(number)
    yield "margin", min(max(margin, _LEAST_MARGIN), _MOST_MARGIN)
    yield "has_a_double", float(margin < inf)
    yield "sure_before", _log_odds(number.before)
    yield "sure_after", _log_odds(number.after)
    yield "words", float(len(number.words))
    yield "one_word", float(len(number.words) == 1)


def _mean_margin(number: Evidence) -> float:
    """Return how clearly a number was told from its double, infinite where it has none."""
    opinions = number.figures, number.other
    return fmean([one.margin for one in opinions if one.margin < inf] or [inf])


def _log_odds(probability: float) -> float:
    near = min(max(probability, _NEAREST), 1 - _NEAREST)
    return log(near / (1 - near))


@cache
def _table() -> dict[str, Any]:
    text = files("jobnotes.speech").joinpath("doubt.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)
