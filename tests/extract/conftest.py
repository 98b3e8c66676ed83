"""A talk typed in place of speech, for the tests of every finder."""

from collections.abc import Callable
from datetime import UTC, datetime

import pytest

from jobnotes.extract.stage import find_facts
from jobnotes.extract.talk import Talk, talk_of
from jobnotes.intake.typed import typed
from jobnotes.record import AnyFact, Job


def _job(lines: tuple[str, ...]) -> Job:
    return typed(Job(id="j", created_at=datetime(2026, 9, 1, tzinfo=UTC)), "\n".join(lines))


@pytest.fixture(scope="session")
def talk() -> Callable[..., Talk]:
    """Give the talk over some lines."""
    return lambda *lines: talk_of(_job(lines))


@pytest.fixture(scope="session")
def hear() -> Callable[..., list[AnyFact]]:
    """Give the facts of one kind found in some lines: `hear("action", "line", "line")`."""

    def facts(kind: str, *lines: str) -> list[AnyFact]:
        return [fact for fact in find_facts(_job(lines)) if fact.kind == kind]

    return facts
