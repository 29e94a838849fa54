"""What was said as WebVTT (W3C, https://www.w3.org/TR/webvtt1/): cues over sound, and notes between.

A cue's first line is the sentence as it was heard, under the voice of who said it; below it stands
what became of it. What has no sound is a NOTE at its place: players pass over it, people and
programs that read the file do not.
"""

from __future__ import annotations

import html
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from voicelog.domain.inert import inert
from voicelog.tongue import english_of

_SHORTEST_MS = 1
"""A cue has to end after it begins."""


@dataclass(frozen=True, slots=True)
class Cue:
    """One utterance over its sound.

    Args:
        name: the utterance's id.
        start_s: where it begins in the sound, in seconds.
        duration_s: its length in seconds.
        by: who said it.
        said: the sentence as it was heard.
        made: what became of it, one entry a sentence.
    """

    name: str
    start_s: float
    duration_s: float
    by: str
    said: str
    made: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Note:
    """Something that cannot be heard, one sentence a line."""

    lines: tuple[str, ...]


def webvtt(blocks: Iterable[Cue | Note]) -> str:
    """A WebVTT file: UTF-8 once it is encoded, line feeds at the ends of lines.

    Args:
        blocks: in the order in which it happened. Cues are in the order of their starts, as the
            standard asks; one that would begin before the cue in front of it begins with it.

    Returns:
        The text. Nothing in it is markup but what stands here: what was said is escaped, and
        control and direction marks are shown as "?".
    """
    return "\n\n".join(("WEBVTT", *_written(blocks))) + "\n"


def _written(blocks: Iterable[Cue | Note]) -> Iterator[str]:
    at_ms = 0
    for block in blocks:
        if isinstance(block, Note):
            yield _note(block)
        else:
            at_ms = max(at_ms, round(block.start_s * 1000))
            yield _cue(block, at_ms)


def _note(note: Note) -> str:
    """A comment; only ``-->`` could end it, and nothing in it is unescaped by readers."""
    lines = [inert(english_of(line)).replace("-->", "-- >").strip() for line in note.lines]
    return "\n".join(("NOTE", *filter(None, lines)))


def _cue(cue: Cue, start_ms: int) -> str:
    end_ms = max(start_ms + _SHORTEST_MS, round((cue.start_s + cue.duration_s) * 1000))
    said = f"<v {_escaped(cue.by)}>{_escaped(cue.said)}</v>"
    made = (_escaped(line) for line in cue.made)
    name = inert(cue.name).replace("-->", "-- >")
    return "\n".join((name, f"{_time(start_ms)} --> {_time(end_ms)}", said, *filter(None, made)))


def _escaped(text: str) -> str:
    """Text that is no markup and cannot end its line."""
    return html.escape(inert(english_of(text)), quote=False).strip()


def _time(ms: int) -> str:
    """``hh:mm:ss.ttt``; hours take as many digits as they need."""
    seconds, ms = divmod(ms, 1000)
    minutes, seconds = divmod(seconds, 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours:02d}:{minutes:02d}:{seconds:02d}.{ms:03d}"
