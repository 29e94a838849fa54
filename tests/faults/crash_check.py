"""What a killed program left: is everything acknowledged there, and can it be gone on with?"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from voicelog.domain.fact import Fact
from voicelog.domain.utterance import KeptClip
from voicelog.errors import VoicelogError
from voicelog.journal.clips import read_clip
from voicelog.journal.naming import JOURNAL
from voicelog.journal.reading import read_log, verify
from voicelog.runtime.logs import open_log

Acknowledged = list[dict[str, Any]]
"""Utterances as :func:`crash_child.taken` tells them."""


def log_in(into: Path) -> Path | None:
    """The one log in a folder that began; None where the program was killed before that."""
    began = [path.parent for path in into.glob(f"*/{JOURNAL}") if b"\n" in path.read_bytes()]
    if len(began) > 1:
        raise AssertionError(f"{len(began)} logs in {into}, where one was begun")
    return began[0] if began else None


def faults_of(into: Path, acknowledged: Acknowledged) -> list[str]:
    """What is wrong with what is left, one sentence each; none where every promise was kept.

    Args:
        into: where the log lies.
        acknowledged: what its programs acknowledged.
    """
    folder = log_in(into)
    if folder is None:
        return [f"{len(acknowledged)} acknowledged, and no log"] if acknowledged else []
    try:
        report, facts = verify(folder), read_log(folder).facts
        open_log(folder)
        return [*report.problems, *_lost(folder, facts, acknowledged)]
    except VoicelogError as fault:
        return [str(fault)]


def notices_of(into: Path) -> tuple[str, ...]:
    """What a check says of the log beside damage; nothing where there is no log."""
    folder = log_in(into)
    return verify(folder).notices if folder is not None else ()


def _lost(folder: Path, facts: tuple[Fact, ...], acknowledged: Acknowledged) -> Iterator[str]:
    kept = {fact.body["utterance"]: fact for fact in facts if fact.type == "utterance"}
    for taken in acknowledged:
        if not taken["keep"]:
            continue
        utterance = taken["utterance"]
        fact = kept.get(utterance)
        if fact is None:
            yield f"{utterance} was acknowledged and is not in the log"
        else:
            yield from _differs(folder, fact, taken)


def _differs(folder: Path, fact: Fact, taken: dict[str, Any]) -> Iterator[str]:
    said = fact.body["heard"]["hypotheses"]
    utterance = taken["utterance"]
    if (said[0]["text"] if said else "") != taken["text"]:
        yield f"{utterance} has other words than those acknowledged"
    if fact.body["changes"] != taken["changes"]:
        yield f"{utterance} has other entries than those acknowledged"
    if not taken["spoken"]:
        return
    clip = fact.body.get("clip")
    if clip is None:
        yield f"{utterance} was spoken and has no sound"
        return
    try:
        read_clip(folder, KeptClip(clip["file"], clip["duration_s"], sha256=clip["sha256"]))
    except VoicelogError as fault:
        yield str(fault)
