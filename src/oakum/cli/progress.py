"""A bar for long work in the terminal."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager


@contextmanager
def progress(what: str) -> Iterator[Callable[[int, int], None]]:
    """Yield a function (done, total) that moves a bar on the terminal."""
    from rich.console import Console
    from rich.progress import Progress

    with Progress(console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task(what, total=None)

        def step(done: int, total: int) -> None:
            bar.update(task, completed=done, total=total)

        yield step
