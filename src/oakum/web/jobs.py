"""Long work in the background, with progress, that a page can leave and find again.

Jobs live as long as the server. They are few (walk the chain, weigh a large mesh, take in a register), so one
worker does them in turn and the last ones stay listed.
"""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from typing import Literal, Protocol

from uuid_utils import uuid7

from oakum.ground.errors import OakumError

KEPT = 50


class Progress(Protocol):
    """What the work calls to say how far it is: a fraction from 0 to 1 and a few words."""

    def __call__(self, fraction: float, words: str) -> None:
        """Tell the state of the work."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """How a job ended: in words, good or not, and where the result is."""

    words: str
    good: bool = True
    details: tuple[str, ...] = ()
    link: str | None = None
    link_text: str = "See the result"


@dataclass(frozen=True, slots=True)
class Job:
    """One piece of long work as it stands now."""

    id: str
    title: str
    started: datetime
    fraction: float = 0.0
    words: str = "waiting its turn"
    state: Literal["waiting", "running", "done", "failed"] = "waiting"
    outcome: Outcome | None = None

    @property
    def ended(self) -> bool:
        """Whether nothing more will change."""
        return self.state in ("done", "failed")

    @property
    def percent(self) -> int:
        """Progress in whole percent."""
        return round(100 * self.fraction)


class Jobs:
    """The list of jobs and the one worker."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._jobs: OrderedDict[str, Job] = OrderedDict()
        self._worker = ThreadPoolExecutor(max_workers=1, thread_name_prefix="oakum-job")

    def start(self, title: str, work: Callable[[Progress], Outcome]) -> Job:
        """Put work in the queue; returns at once."""
        job = Job(id=uuid7().hex, title=title, started=datetime.now(UTC))
        with self._lock:
            self._jobs[job.id] = job
            while len(self._jobs) > KEPT:
                self._jobs.popitem(last=False)
        self._worker.submit(self._run, job.id, work)
        return job

    def get(self, job_id: str) -> Job | None:
        """Return the job as it stands, or None where the server does not know it (any more)."""
        with self._lock:
            return self._jobs.get(job_id)

    def recent(self, count: int = 5) -> tuple[Job, ...]:
        """Return the last jobs, newest first."""
        with self._lock:
            return tuple(reversed(self._jobs.values()))[:count]

    def close(self) -> None:
        """Take no more work and drop what has not begun."""
        self._worker.shutdown(wait=False, cancel_futures=True)

    def _set(self, job_id: str, **changes: object) -> None:
        with self._lock:
            if job_id in self._jobs:
                self._jobs[job_id] = replace(self._jobs[job_id], **changes)  # type: ignore[arg-type]

    def _run(self, job_id: str, work: Callable[[Progress], Outcome]) -> None:
        def progress(fraction: float, words: str) -> None:
            self._set(job_id, fraction=min(1.0, max(0.0, fraction)), words=words)

        self._set(job_id, state="running", words="begun")
        try:
            outcome = work(progress)
        except OakumError as error:
            self._set(job_id, state="failed", outcome=Outcome(words=str(error), good=False))
        except Exception as error:  # a job must end on its page, whatever it was
            words = f"An error of the program itself ended this work: {type(error).__name__}: {error}"
            self._set(job_id, state="failed", outcome=Outcome(words=words, good=False))
            raise
        else:
            self._set(job_id, state="done", fraction=1.0, outcome=outcome)
