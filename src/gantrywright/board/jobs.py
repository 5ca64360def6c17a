"""Long work in processes of their own, with progress and an end that can be asked for."""

import itertools
import time
from collections.abc import Callable
from dataclasses import dataclass, replace
from multiprocessing import get_context
from multiprocessing.connection import Connection
from threading import RLock, Thread
from typing import Any

GRACE = 1.0
"""Seconds that a process is given to end by itself."""
REMEMBERED = 8
"""Finished jobs that are still told of."""

Work = Callable[["Progress"], Any]


@dataclass(frozen=True, slots=True)
class Job:
    """One piece of long work."""

    id: int
    name: str
    state: str = "running"
    """running, done, cancelled or failed."""
    fraction: float | None = 0.0
    note: str = ""
    result: Any = None


class Cancelled(Exception):
    """Raised inside the work when its end was asked for."""


class Progress:
    """Handed to the work: it tells how far it is, and learns that it should end."""

    def __init__(self, pipe: Connection, stop: Any) -> None:
        """Tell through a pipe."""
        self._pipe, self._stop, self._last = pipe, stop, 0.0

    def told(self, fraction: float, note: str = "") -> None:
        """Tell how far the work is; raises `Cancelled` where its end was asked for."""
        if self._stop.is_set():
            raise Cancelled
        now = time.monotonic()
        if now - self._last > 0.05 or fraction >= 1:
            self._last = now
            self._pipe.send(("progress", float(fraction), note))


class Jobs:
    """All long work of a board."""

    def __init__(self, changed: Callable[[], None]) -> None:
        """Tell of every change."""
        self._changed = changed
        self._lock = RLock()
        self._jobs: dict[int, Job] = {}
        self._running: dict[int, tuple[Any, Any]] = {}
        self._ids = itertools.count(1)

    def start(self, name: str, work: Callable[..., Any], *arguments: Any) -> Job:
        """Start work in a process of its own.

        Args:
            name: What it is, in words.
            work: A function of a module, called with a `Progress` and the arguments; what it returns is the result.
            arguments: Picklable.
        """
        context = get_context("spawn")
        ours, theirs = context.Pipe(duplex=False)
        stop = context.Event()
        process = context.Process(target=_run, args=(work, arguments, theirs, stop), daemon=True)
        job = Job(next(self._ids), name)
        with self._lock:
            self._jobs[job.id], self._running[job.id] = job, (process, stop)
            for old in [n for n, j in self._jobs.items() if j.state != "running"][:-REMEMBERED]:
                del self._jobs[old]
        process.start()
        theirs.close()
        Thread(target=self._listen, args=(job.id, ours, process, stop), daemon=True).start()
        self._changed()
        return job

    def get(self, number: int) -> Job:
        """One job; raises ``KeyError``."""
        return self._jobs[number]

    def listed(self) -> list[dict[str, Any]]:
        """All jobs without their results."""
        keys = ("id", "name", "state", "fraction", "note")
        return [{key: getattr(job, key) for key in keys} for job in self._jobs.values()]

    def cancel(self, number: int) -> Job:
        """Ask a job to end; one that does not is ended."""
        job = self.get(number)
        running = self._running.get(number)
        if running is not None:
            process, stop = running
            stop.set()
            Thread(target=_firmly, args=(process,), daemon=True).start()
        return job

    def close(self) -> None:
        """End all."""
        for process, stop in list(self._running.values()):
            stop.set()
            process.terminate()

    def _listen(self, number: int, pipe: Connection, process: Any, stop: Any) -> None:
        try:
            while True:
                what, *more = pipe.recv()
                if what == "progress":
                    self._set(number, fraction=more[0], note=more[1])
                    continue
                if what == "done":
                    self._set(number, state="done", fraction=1.0, result=more[0])
                else:
                    self._set(number, state=what, note=more[0] if more else "")
                break
        except (EOFError, OSError):
            asked = stop.is_set()
            self._set(number, state="cancelled" if asked else "failed", note="" if asked else "its process ended unexpectedly")
        process.join(GRACE)
        self._running.pop(number, None)

    def _set(self, number: int, **values: Any) -> None:
        with self._lock:
            if number in self._jobs:
                self._jobs[number] = replace(self._jobs[number], **values)
        self._changed()


def _firmly(process: Any) -> None:
    process.join(GRACE)
    if process.is_alive():
        process.terminate()


def _run(work: Callable[..., Any], arguments: tuple[Any, ...], pipe: Connection, stop: Any) -> None:
    try:
        pipe.send(("done", work(Progress(pipe, stop), *arguments)))
    except Cancelled:
        pipe.send(("cancelled",))
    except BaseException as error:  # noqa: BLE001 - whatever it is, the page must be told
        pipe.send(("failed", f"{type(error).__name__}: {error}"))
