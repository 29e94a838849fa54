"""An ear in a process of its own: it may crash or hang there without taking the inspection along."""

from __future__ import annotations

import json
import struct
import subprocess
import sys
import threading
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from typing import Any

from voicelog.domain.heard import Heard, heard_from_json
from voicelog.domain.sound import Clip
from voicelog.errors import EarFault
from voicelog.tongue import handed_over, to_word, worded

LOADING_S = 60.0
"""So long it may need until it is ready; a slow disk and 90 MB of libraries and model."""

HANGS_S = 60.0
"""An utterance of 20 s takes it two seconds; after so many it will never answer, however busy the
machine is (ours)."""

_RUN = "import sys; sys.path.append(sys.argv[1]); from voicelog.recognise.ear_worker import main; main()"
_COMMAND = (sys.executable, "-P", "-c", _RUN, str(Path(__file__).parents[2]))


class EarProcess:
    """The second ear as another process has it. One utterance at a time.

    Args:
        phrases: the vocabulary.
        threads: of the processor that it may use.
        behind: whatever else the machine does comes first.
        command: what starts the other process.
        loading_s: seconds until it has to be ready.
        hangs_s: seconds in which it has to answer.
    """

    def __init__(
        self,
        phrases: Sequence[str],
        *,
        threads: int = 2,
        behind: bool = False,
        command: Sequence[str] = _COMMAND,
        loading_s: float = LOADING_S,
        hangs_s: float = HANGS_S,
    ) -> None:
        self._order = {"phrases": list(phrases), "threads": threads, "behind": behind}
        self._command, self._loading_s, self._hangs_s = command, loading_s, hangs_s
        self._worker: subprocess.Popen[bytes] | None = None
        self._over, self._starting = False, threading.Lock()
        self.engine = self.model = ""

    def start(self) -> None:
        """Have it ready; does nothing where it is.

        Raises:
            EarFault: it cannot be used here.
        """
        with self._starting:
            if self._worker is not None:
                return
            if self._over:  # closed by another thread: nobody would end a process begun now
                raise EarFault(worded("The second ear has ended"), worded(_HINT))
            self._worker = self._begun()
        ready = self._ask(json.dumps(self._order).encode() + b"\n", self._loading_s)
        self.engine, self.model = str(ready.get("engine")), str(ready.get("model"))

    def hear(self, clip: Clip) -> Heard:
        """What it makes of an utterance.

        Raises:
            EarFault: it is missing or altered, crashed or does not answer; it is gone then.
        """
        self.start()
        told = self._ask(struct.pack(">Q", len(clip.pcm)) + clip.pcm, self._hangs_s)
        try:
            return heard_from_json(told["heard"])
        except (KeyError, TypeError, ValueError):
            self.close()
            raise EarFault(
                worded("The second ear gave an answer that nobody can read"), worded(_HINT)
            ) from None

    def close(self) -> None:
        """End the other process; may be called from any thread, and more than once."""
        with self._starting:
            worker, self._worker, self._over = self._worker, None, True
        if worker is not None:
            worker.kill()
            with suppress(OSError, ValueError):
                worker.communicate()

    def _begun(self) -> subprocess.Popen[bytes]:
        pipe = subprocess.PIPE
        try:
            return subprocess.Popen(  # noqa: S603  (this program's own file, without a shell)
                self._command, stdin=pipe, stdout=pipe, stderr=subprocess.DEVNULL
            )
        except OSError as error:
            raise EarFault(
                worded("The second ear cannot be started ({error})", error=error), worded(_HINT)
            ) from error

    def _ask(self, request: bytes, longest_s: float) -> dict[str, Any]:
        """Its answer.

        Raises:
            EarFault: there is none, or it is a fault.
        """
        worker = self._worker
        if worker is None or worker.stdin is None or worker.stdout is None:
            raise EarFault(worded("The second ear has ended"), worded(_HINT))
        late = threading.Event()

        def give_up() -> None:
            late.set()
            worker.kill()

        clock = threading.Timer(longest_s, give_up)
        clock.daemon = True
        clock.start()
        try:
            worker.stdin.write(request)
            worker.stdin.flush()
            told = dict(json.loads(worker.stdout.readline()))
        except (OSError, TypeError, ValueError):
            self.close()
            raise EarFault(
                worded(
                    "The second ear does not answer within {seconds} s", seconds=f"{longest_s:.0f}"
                )
                if late.is_set()
                else worded("The second ear crashed"),
                worded(_HINT),
            ) from None
        finally:
            clock.cancel()
        if "fault" in told:
            self.close()
            raise EarFault(handed_over(told["fault"]), handed_over(told.get("hint", "")))
        return told


_HINT = to_word("The inspection goes on with one ear; voicelog doctor tells more")
