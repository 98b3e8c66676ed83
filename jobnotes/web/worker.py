"""The one worker: it takes files into jobs and runs their stages, one after another."""

from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor, wait

from jobnotes.errors import JobnotesError, StaleJobError

_TRIES = 3  # a clerk who saves in between makes the work of a stage stale; it is then done again
_BROKEN = "The work on this job broke off. It is tried again when the program is started anew."


class Worker:
    """Work by job, in the order asked for; `said` holds what went wrong last, by job."""

    def __init__(self) -> None:
        """Start without work."""
        self.said: dict[str, str] = {}
        self._pool = ThreadPoolExecutor(max_workers=1, thread_name_prefix="stages")
        self._waiting: dict[Future[None], str] = {}

    def ask(self, job_id: str, work: Callable[[], None]) -> None:
        """Queue some work on a job."""
        self.said.pop(job_id, None)
        future = self._pool.submit(self._one, job_id, work)
        self._waiting[future] = job_id
        future.add_done_callback(self._ended)

    def busy(self, job_id: str) -> bool:
        """Tell whether work on a job is waiting or going on."""
        return job_id in list(self._waiting.values())

    def drain(self) -> None:
        """Wait until everything that was asked for so far is done."""
        wait(list(self._waiting))

    def stop(self) -> None:
        """End after the work in hand; what is still queued is found again at the next start."""
        self._pool.shutdown(cancel_futures=True)

    def _ended(self, future: Future[None]) -> None:
        job_id = self._waiting.pop(future)
        if not future.cancelled() and future.exception() is not None:
            self.said[job_id] = _BROKEN

    def _one(self, job_id: str, work: Callable[[], None]) -> None:
        for left in reversed(range(_TRIES)):
            try:
                return work()
            except StaleJobError as error:
                if not left:
                    self.said[job_id] = str(error)
            except JobnotesError as error:
                self.said[job_id] = str(error)
                return None
        return None
