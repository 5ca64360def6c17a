"""Settled answers from a process of their own, so that they never hold up an edit: the whole study, its spread, its remedies."""

import os
from collections.abc import Callable
from multiprocessing import get_context
from multiprocessing.connection import Connection
from pathlib import Path
from threading import Lock, Thread
from typing import Any, TypeAlias

Told: TypeAlias = Callable[[int, str, Any], None]
"""Gets the revision, what it is ("typical", "settled", "mending", "mended", "failed"), and the parcel or words."""

ASKED_AGAIN = 2
"""Times that a text is tried on a new process after one died of it."""


class Settler:
    """Keeps one process that always works on the newest text; older ones are dropped between their stages."""

    def __init__(self, told: Told) -> None:
        """Start the process; it loads what it needs while the page does.

        Args:
            told: Called from a thread of its own.
        """
        self._told = told
        self._lock = Lock()
        self._asked: tuple[int, str, str] | None = None
        self._tries = 0
        self._closed = False
        self._start()

    def ask(self, rev: int, path: Path, text: str) -> None:
        """Settle a text, in place of whatever is being settled."""
        with self._lock:
            self._asked, self._tries = (rev, str(path), text), 0
            self._send()

    def close(self) -> None:
        """End the process."""
        with self._lock:
            self._closed = True
            self._process.terminate()
            self._pipe.close()

    def _start(self) -> None:
        context = get_context("spawn")
        self._pipe, theirs = context.Pipe()
        self._process = context.Process(target=work, args=(theirs,), daemon=True, name="gantrywright-settling")
        self._process.start()
        theirs.close()
        Thread(target=self._listen, args=(self._pipe,), daemon=True).start()

    def _send(self) -> None:
        try:
            self._pipe.send(self._asked)
        except (OSError, ValueError):  # it just died: the listener starts another one and asks again
            return

    def _listen(self, pipe: Connection) -> None:
        while True:
            try:
                rev, what, parcel = pipe.recv()
            except (EOFError, OSError, TypeError):  # ended, or closed here while it waited
                break
            self._told(rev, what, parcel)
        self._again()

    def _again(self) -> None:
        """A new process in place of one that died; a text that killed several is given up."""
        with self._lock:
            if self._closed:
                return
            self._start()
            if self._asked is None:
                return
            self._tries += 1
            if self._tries <= ASKED_AGAIN:
                self._send()
                return
            rev = self._asked[0]
        self._told(
            rev, "failed", "the process that settles the answers ended unexpectedly, several times over; typical values stand"
        )


def work(pipe: Connection) -> None:
    """What the process does: wait for a text, send the typical study, then the settled one from few and from many samples, then with the
    remedies of more and more findings."""
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    if hasattr(os, "nice"):
        os.nice(5)  # what follows the fingers goes first
    while True:
        try:
            asked = pipe.recv()
            while pipe.poll():
                asked = pipe.recv()
            _answer(pipe, *asked)
        except (EOFError, OSError, KeyboardInterrupt):
            return


def _answer(pipe: Connection, rev: int, path: str, text: str) -> None:
    from gantrywright.base.errors import FileProblems
    from gantrywright.intake.document import parse_toml
    from gantrywright.intake.resolve import again, resolve
    from gantrywright.study.parcel import packed
    from gantrywright.study.remedies import each_remedied
    from gantrywright.study.study import FEW, SAMPLES, run, settle, simulated
    from gantrywright.study.whole import WORST

    try:
        document = parse_toml(text.encode("utf-8"), Path(path))
        once_more = again(document)
        study = run(resolve(document))
        pipe.send((rev, "typical", packed(study)))
        if pipe.poll():
            return
        study = simulated(study)
        for count in (FEW, SAMPLES):
            spread = settle(study, once_more, count=count)
            pipe.send((rev, "settled", packed(spread)))
            if pipe.poll():
                return
        study = spread
        mended = study
        for count, mended in enumerate(each_remedied(study, once_more), 1):
            if pipe.poll():
                return
            if count % WORST == 0:
                pipe.send((rev, "mending", packed(mended)))
        pipe.send((rev, "mended", packed(mended)))
    except FileProblems:
        return  # the desk knows already
    except Exception as error:  # noqa: BLE001 - whatever it is, the page must say that there is no settled answer
        pipe.send((rev, "failed", f"{type(error).__name__}: {error}"))
