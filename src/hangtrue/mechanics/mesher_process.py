"""The process that meshes: started when first needed, killed when it does not answer in time."""

from __future__ import annotations

import atexit
import json
import subprocess
import sys
from contextlib import suppress
from pathlib import Path
from queue import Empty, SimpleQueue
from threading import Lock, Thread
from typing import Any

LIMIT = 5.0
"""s for one pane, the start of the process included; a pane takes some hundredths."""
PROGRAM = Path(__file__).with_name("mesher.py")


class MesherFailed(RuntimeError):  # noqa: N818 - it says what happened
    """The mesher did not answer, or said why it cannot."""


class Mesher:
    """One meshing process, asked one pane at a time from any thread."""

    def __init__(self, program: Path = PROGRAM) -> None:
        """Take the program to run; nothing is started yet."""
        self._program = program
        self._process: subprocess.Popen[str] | None = None
        self._answers: SimpleQueue[str] = SimpleQueue()
        self._lock = Lock()

    def ask(self, request: dict[str, Any], limit: float | None = None) -> dict[str, Any]:
        """Mesh a pane, as `mesher.triangles` takes and gives it.

        Raises
        ------
        MesherFailed
            If there is no answer within the limit (s), or the answer is an error. The next pane
            gets a new process.

        """
        with self._lock:
            try:
                self._say(json.dumps(request) + "\n")
                answer = self._answers.get(timeout=LIMIT if limit is None else limit)
            except (OSError, Empty):
                self._end()
                raise MesherFailed("the mesher did not come back in time") from None
        if not answer:
            self.close()
            raise MesherFailed("the mesher ended without an answer")
        found: dict[str, Any] = json.loads(answer)
        if "error" in found:
            raise MesherFailed(found["error"])
        return found

    def start(self) -> None:
        """Start the process before there is a pane, so that it is ready when one comes.

        Where it cannot be started nothing is said: the first pane will say it.
        """
        with self._lock, suppress(OSError):
            if self._process is None:
                self._process = self._started()

    def close(self) -> None:
        """End the process, if there is one."""
        with self._lock:
            self._end()

    def _say(self, line: str) -> None:
        if self._process is None:
            self._process = self._started()
        if self._process.stdin is None:
            raise OSError("no way to the mesher")
        self._process.stdin.write(line)
        self._process.stdin.flush()

    def _started(self) -> subprocess.Popen[str]:
        """Start the program apart from our own modules, whose names it must not find."""
        process = subprocess.Popen(  # noqa: S603 - our own program
            [sys.executable, "-P", str(self._program)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            text=True,
            encoding="utf-8",
        )
        self._answers = SimpleQueue()
        Thread(target=_listen, args=(process, self._answers), daemon=True).start()
        return process

    def _end(self) -> None:
        process, self._process = self._process, None
        if process is None:
            return
        process.kill()
        process.wait()
        if process.stdin is not None:
            process.stdin.close()


def _listen(process: subprocess.Popen[str], answers: SimpleQueue[str]) -> None:
    """Pass on every answer, and an empty one at the end."""
    if process.stdout is None:
        return
    with process.stdout as lines:
        for line in lines:
            answers.put(line)
    answers.put("")


MESHER = Mesher()
"""The one of this process."""
atexit.register(MESHER.close)
