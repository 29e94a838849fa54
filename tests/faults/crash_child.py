"""The program that is killed: a live inspection in a forked process, which tells what was acknowledged."""

from __future__ import annotations

import json
import math
import os
import signal
import sys
import traceback
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from dataclasses import dataclass, field
from pathlib import Path
from queue import Queue
from typing import IO, Any, NoReturn

from crash_ear import Known, NotingEar, RememberingEar
from disk_calls import Between, Call

from voicelog.config.settings import Settings
from voicelog.domain.change_json import change_to_json
from voicelog.domain.signal import Talk
from voicelog.recognise.port import Ear
from voicelog.runtime import live, opening
from voicelog.runtime.launching import Wishes, launch
from voicelog.runtime.messages import Closed, Message, Opened, SoundEnded, Took

HANGS_S = 120
"""A child that takes longer ends itself."""

_write = os.write  # the pipe to the parent is no disk: nothing stands in between


@dataclass(frozen=True)
class Walk:
    """One inspection, or one that is gone on with.

    Args:
        into: where logs go.
        recordings: played in place of a microphone.
        resume: a log to go on with; empty for a new one.
        typed: said by the keyboard once the recordings are over.
        known: what was heard before; None for the built-in ear itself.
        dies_at: the number of the call to the disk in which it kills itself; None for none.
        where: before the call, after it, or in the middle of the first write from there on.
        noted: where it is written down what the built-in ear hears; None for nowhere.
    """

    into: Path
    recordings: tuple[Path, ...]
    resume: str = ""
    typed: str = ""
    known: Known | None = None
    dies_at: int | None = None
    where: str = "half"
    noted: Path | None = None


@dataclass
class Child:
    """A forked process, and what it told.

    Args:
        pid: of it.
        told: its lines, as they come.
        acknowledged: utterances that the product acknowledged, in order, as :func:`taken` has them.
        opened: the log was open.
        calls: to the disk, when it was opened, and when it told last.
        closed: how it ended by itself; None when it was killed.
    """

    pid: int
    told: IO[bytes]
    acknowledged: list[dict[str, Any]] = field(default_factory=list)
    opened: bool = False
    calls: tuple[int, int] = (0, 0)
    closed: dict[str, Any] | None = None

    def lines(self) -> Iterator[str]:
        """What it tells, kind by kind, until it ends; half a line was never told."""
        for line in self.told:
            if line.endswith(b"\n"):
                yield self._take(json.loads(line))

    def end(self) -> int:
        """Reads the rest and waits; gives the exit status, negative for a signal."""
        for _ in self.lines():
            pass
        self.told.close()
        return os.waitstatus_to_exitcode(os.waitpid(self.pid, 0)[1])

    def kill(self) -> None:
        """Kills it without warning."""
        os.kill(self.pid, signal.SIGKILL)

    def _take(self, told: dict[str, Any]) -> str:
        kind = str(told["kind"])
        if kind == "opened":
            self.opened, self.calls = True, (told["calls"], told["calls"])
        elif kind == "took":
            self.calls = self.calls[0], told["calls"]
            self.acknowledged.append(told["taken"])
        elif kind == "closed":
            self.closed = told
        return kind


def fork(walk: Walk) -> Child:
    """Begins it; the caller may have no other thread."""
    reads, writes = os.pipe()
    sys.stdout.flush()
    sys.stderr.flush()
    pid = os.fork()
    if not pid:
        os.close(reads)
        _run(walk, writes)
    os.close(writes)
    return Child(pid, os.fdopen(reads, "rb"))


def _run(walk: Walk, told: int) -> NoReturn:
    """The child: it never comes back to what its parent was doing."""
    status = 1
    try:
        signal.alarm(HANGS_S)
        _inspect(walk, told)
        status = 0
    except BaseException:
        traceback.print_exc()
    finally:
        sys.stderr.flush()
        os._exit(status)


def _inspect(walk: Walk, told: int) -> None:
    settings = Settings(
        into=walk.into, ear="built-in", voice="none", talk=Talk.TONES, second_ear="off"
    )
    heard: Known = {}
    if walk.known is not None:
        live.open_the_ear = lambda *_: RememberingEar(walk.known or {})
    elif walk.noted is not None:
        live.open_the_ear = lambda *given: _noting(NotingEar(opening.open_the_ear(*given), heard))
    wishes = Wishes(
        rehearse=True, recordings=walk.recordings, resume=walk.resume, speed=math.inf, ask=False
    )
    with ExitStack() as held:
        between = held.enter_context(Between(_dying(walk), walk.into))
        _follow(launch(settings, wishes), walk, told, between)
    if walk.noted is not None:
        walk.noted.write_text(json.dumps(heard), encoding="utf-8")


def _noting(ear: Ear) -> Ear:
    return ear


def _dying(walk: Walk) -> Callable[[Call], Any]:
    """Ends the program at the very call that was chosen, as a kill from outside might."""

    def meet(call: Call) -> Any:
        due = walk.dies_at is not None and call.number >= walk.dies_at
        if not due or (walk.where == "half" and call.name != "write"):
            return call.go_on()
        if walk.where == "half":
            call.half()
        elif walk.where == "after":
            call.go_on()
        os.kill(os.getpid(), signal.SIGKILL)
        return None

    return meet


def _follow(engine: live.LiveEngine, walk: Walk, told: int, between: Between) -> None:
    """Tells the parent what the engine told, after the engine did."""
    messages: Queue[Message] = Queue()
    engine.start(messages.put)
    waits = bool(walk.typed)
    while True:
        message = messages.get()
        match message:
            case Opened():
                _tell(told, kind="opened", calls=between.calls)
            case Took():
                _tell(told, kind="took", calls=between.calls, taken=taken(message))
                waits = waits and message.event.heard.text != walk.typed
                if not (waits or not walk.typed):
                    engine.stop()
            case SoundEnded() if waits:
                engine.type(walk.typed)
            case SoundEnded():
                engine.stop()
            case Closed():
                engine.join()
                _tell(told, kind="closed", fault=message.fault, code=message.exit_code)
                return
            case _:
                pass


def taken(message: Took) -> dict[str, Any]:
    """What the product said it had: the utterance, its words, and what it changed."""
    event = message.event
    return {
        "utterance": event.utterance,
        "text": event.heard.text,
        "spoken": event.timing.decode_s > 0 or event.heard.engine != "typed",
        "keep": event.turn.keep,
        "changes": json.loads(json.dumps([change_to_json(one) for one in event.turn.changes])),
    }


def _tell(told: int, **what: Any) -> None:
    _write(told, json.dumps(what).encode() + b"\n")
