"""What is new of a job at the bench, sent as it comes (server-sent events, WHATWG HTML 9.2)."""

import asyncio
from collections.abc import AsyncIterator
from time import monotonic
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.responses import Response, StreamingResponse

from jobnotes.web.bench import heard
from jobnotes.web.site import Ask

LOOK_S = 0.2
"""Seconds between two looks, which cost one small query each."""

OPEN_S = 30.0
"""Seconds after which the browser asks anew, and whether it may is checked again."""

AGAIN_MS = 300


def news(ask: Ask) -> Response:
    """Send what the page shows of a job now, and again whenever it changes."""
    ask.desk.load(ask.part("job"))
    return StreamingResponse(_sent(ask), media_type="text/event-stream")


async def _sent(ask: Ask) -> AsyncIterator[str]:
    ends, seen = monotonic() + OPEN_S, None
    yield f"retry: {AGAIN_MS}\n\n"
    while monotonic() < ends:
        now = await run_in_threadpool(_state, ask)
        if now != seen:
            seen = now
            page = await run_in_threadpool(heard, ask)
            yield _event(bytes(page.body).decode())
        await asyncio.sleep(LOOK_S)


def _state(ask: Ask) -> Any:
    """Return what changes whenever the page would."""
    job_id, site = ask.part("job"), ask.site
    take = site.listening.of(job_id)
    spoken = (id(take), take.version) if take else None
    work = site.worker.busy(job_id), site.worker.said.get(job_id)
    return site.desk.store.revision(job_id), spoken, work


def _event(text: str) -> str:
    return "".join(f"data: {line}\n" for line in text.splitlines()) + "\n"
