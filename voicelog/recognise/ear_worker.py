"""A process that hears for another one, so that neither its crash nor its work is felt there.

Started by :mod:`voicelog.recognise.ear_process`. From standard input it takes one line of JSON that
says which ear, then for each utterance eight bytes of length and its sound (16 kHz mono s16le). It
answers one line of JSON each: the ear's name and model once it is ready, then what was heard; a fault
with what to do about it instead.
"""

from __future__ import annotations

import json
import os
import signal
import struct
import sys
from collections.abc import Callable, Mapping
from contextlib import suppress
from typing import IO, Any

from voicelog.domain.heard import heard_to_json
from voicelog.errors import VoicelogError
from voicelog.recognise.port import Ear

Open = Callable[[Mapping[str, Any]], Ear]
"""Opens the ear that an order asks for."""

BEHIND = 10
"""How far it stands behind what else the machine does (the system's niceness, 0 to 19)."""


def main() -> None:
    """Serve the process that started this one; what libraries print goes to standard error."""
    with suppress(ValueError, OSError):  # an interrupt is for the program, which ends this one
        signal.signal(signal.SIGINT, signal.SIG_IGN)
    answers = os.fdopen(os.dup(1), "w", encoding="ascii")
    os.dup2(2, 1)
    serve(sys.stdin.buffer, answers, open_ordered)


def serve(orders: IO[bytes], answers: IO[str], opened: Open) -> None:
    """Answer until there is nothing more to hear."""

    def tell(document: Mapping[str, Any]) -> None:
        answers.write(json.dumps(document) + "\n")
        answers.flush()

    try:
        ear = opened(json.loads(orders.readline() or b"{}"))
    except VoicelogError as fault:
        tell({"fault": fault.message.parts, "hint": fault.hint.parts})
        return
    tell({"engine": ear.engine, "model": ear.model})
    while len(head := orders.read(8)) == 8:
        ear.feed(orders.read(struct.unpack(">Q", head)[0]))
        tell({"heard": heard_to_json(ear.finish())})


def open_ordered(order: Mapping[str, Any]) -> Ear:
    """The second ear, behind everything else that the machine has to do if it is told so.

    Raises:
        EarFault: it cannot be used here.
    """
    from voicelog.recognise.whisper_engine import WhisperEar
    from voicelog.recognise.whisper_model import WhisperModel

    if order.get("behind"):
        with suppress(AttributeError, OSError):  # not every system knows it
            os.nice(BEHIND)
    return WhisperEar(order["phrases"], model=WhisperModel(threads=int(order["threads"])))


if __name__ == "__main__":
    main()
