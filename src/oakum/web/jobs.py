"""Long work in the background, with progress, that a page can leave and find again.

Jobs live as long as the server. They are few (walk the chain, weigh a large mesh, take in a register, run through
many seas), so one worker does them in turn and the last ones stay listed. Work that may be stopped ends where it next
tells its progress.
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
    about: str = ""
    may_stop: bool = False
    is_stopping: bool = False

    @property
    def ended(self) -> bool:
        """Whether nothing more will change."""
        return self.state in ("done", "failed")

    @property
    def percent(self) -> int:
        """Progress in whole percent."""
        return round(100 * self.fraction)


class _StoppedError(Exception):
    """Somebody stopped the work; raised out of its progress."""


class Jobs:
    """The list of jobs and the one worker."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._jobs: OrderedDict[str, Job] = OrderedDict()
        self._worker = ThreadPoolExecutor(max_workers=1, thread_name_prefix="oakum-job")

    def start(
        self, title: str, work: Callable[[Progress], Outcome], *, about: str = "", may_stop: bool = False
    ) -> Job:
        """Put work in the queue; returns at once. `about` what it is for, to find it by with `under_way`.

        Work that `may_stop` must leave nothing half done where its progress raises.
        """
        job = Job(uuid7().hex, title, datetime.now(UTC), about=about, may_stop=may_stop)
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

    def under_way(self, about: str) -> Job | None:
        """Return the newest work about something that has not ended, or None."""
        with self._lock:
            return next((j for j in reversed(self._jobs.values()) if j.about == about and not j.ended), None)

    def stop(self, job_id: str) -> None:
        """Ask work that may be stopped to end; nothing happens where it may not or has ended."""
        with self._lock:
            job = self._jobs.get(job_id)
            if job is not None and job.may_stop and not job.ended:
                self._jobs[job_id] = replace(job, is_stopping=True)

    def close(self) -> None:
        """Take no more work, drop what has not begun and stop what may be stopped."""
        with self._lock:
            for job_id, job in self._jobs.items():
                self._jobs[job_id] = replace(job, is_stopping=job.may_stop)
        self._worker.shutdown(wait=False, cancel_futures=True)

    def _set(self, job_id: str, **changes: object) -> None:
        with self._lock:
            if job_id in self._jobs:
                self._jobs[job_id] = replace(self._jobs[job_id], **changes)  # type: ignore[arg-type]

    def _run(self, job_id: str, work: Callable[[Progress], Outcome]) -> None:
        def progress(fraction: float, words: str) -> None:
            now = self.get(job_id)
            if now is not None and now.is_stopping:
                raise _StoppedError
            self._set(job_id, fraction=min(1.0, max(0.0, fraction)), words=words)

        self._set(job_id, state="running", words="begun")
        try:
            progress(0.0, "begun")
            outcome = work(progress)
        except _StoppedError:
            self._set(job_id, state="failed", outcome=Outcome("Stopped. Nothing of it is kept.", good=False))
        except OakumError as error:
            self._set(job_id, state="failed", outcome=Outcome(words=str(error), good=False))
        except Exception as error:  # a job must end on its page, whatever it was
            words = f"An error of the program itself ended this work: {type(error).__name__}: {error}"
            self._set(job_id, state="failed", outcome=Outcome(words=words, good=False))
            raise
        else:
            self._set(job_id, state="done", fraction=1.0, outcome=outcome)
