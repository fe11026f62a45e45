"""Long work of the pages: found by what it is about, stopped where it tells its progress, and only if it may be."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable

from oakum.web.jobs import Job, Jobs, Outcome, Progress


def until(jobs: Jobs, job: Job, wanted: Callable[[Job], bool]) -> Job:
    for _ in range(500):
        now = jobs.get(job.id)
        assert now is not None
        if wanted(now):
            return now
        time.sleep(0.01)
    raise AssertionError(f"{now.state} {now.words}")


def steady(kept: list[str]) -> Callable[[Progress], Outcome]:
    def work(progress: Progress) -> Outcome:
        for i in range(1000):
            progress(i / 1000, "at it")
            time.sleep(0.005)
        kept.append("done")
        return Outcome("Done.")

    return work


def test_work_that_may_be_stopped_ends_at_its_next_progress_and_keeps_nothing() -> None:
    jobs, kept = Jobs(), []
    job = jobs.start("Seas", steady(kept), about="seas 1", may_stop=True)
    waiting = jobs.start("Seas", steady(kept), about="seas 2", may_stop=True)
    until(jobs, job, lambda j: j.fraction > 0.0)
    assert jobs.under_way("seas 1") is not None and jobs.under_way("seas 3") is None
    jobs.stop(job.id)
    jobs.stop(waiting.id)
    for one in (job, waiting):
        ended = until(jobs, one, lambda j: j.ended)
        assert ended.outcome is not None and ended.outcome.words.startswith("Stopped") and not ended.outcome.good
    assert kept == [] and jobs.under_way("seas 1") is None
    jobs.close()


def test_work_that_may_not_be_stopped_goes_on() -> None:
    jobs = Jobs()
    go = threading.Event()

    def work(progress: Progress) -> Outcome:
        go.wait(5.0)
        progress(0.5, "half")
        return Outcome("Entered.")

    job = jobs.start("Take in", work)
    jobs.stop(job.id)
    jobs.stop("not known")
    go.set()
    ended = until(jobs, job, lambda j: j.ended)
    assert ended.outcome == Outcome("Entered.") and not ended.is_stopping
    jobs.close()


def test_closing_stops_what_may_be_stopped() -> None:
    jobs, kept = Jobs(), []
    job = jobs.start("Seas", steady(kept), may_stop=True)
    until(jobs, job, lambda j: j.fraction > 0.0)
    jobs.close()
    assert until(jobs, job, lambda j: j.ended).state == "failed" and kept == []
