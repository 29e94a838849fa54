"""Logs to be put right: what was said in them, opened at the bench."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from voicelog.config.settings import Settings
from voicelog.domain.sound import Clip
from voicelog.errors import SofteningFault
from voicelog.runtime.bench_log import Done
from voicelog.runtime.going_on import earlier_log
from voicelog.runtime.opening import open_again, open_reading
from voicelog.runtime.review import Review

UNSAFE = "left front rail, crack"
"""A crack in a rail is unsafe by the shipped rules."""


def kept(parent: Path, *texts: str) -> Path:
    """A log in which this was said."""
    with open_reading(Settings(into=parent), keep=True) as session:
        for number, text in enumerate(texts):
            session.read(text, at_s=float(number))
        assert session.folder is not None
        return session.folder


def at_the_bench(folder: Path, **more: Any) -> Review:
    """The log open for reviewing by Sam."""
    return Review.open(folder, Settings(), **{"by": "Sam", **more})


def said_since(folder: Path, *texts: str) -> None:
    """The inspection goes on, on another day."""
    from voicelog.recognise.typed_engine import TypedEar

    with open_again(earlier_log(folder, Settings()), TypedEar()) as session:
        for text in texts:
            session.read(text, at_s=session.now_s())


def slots(review: Review, entry: str) -> dict[str, Any]:
    """What is known of an entry, without how sure it was said."""
    known = dict(review.finding(entry).entry.slots)
    known.pop("certainty", None)
    return known


def told(deed: Any, *given: Any, **named: Any) -> Done:
    """Do it; where something unsafe would be so no longer, with a reason."""
    try:
        done: Done = deed(*given, **named)
    except SofteningFault:
        done = deed(*given, **named, why="looked at again")
    return done


def clip() -> Clip:
    """Half a second of sound."""
    return Clip(bytes(range(250)) * 64, start_s=1.0, speech_end_s=1.4)
