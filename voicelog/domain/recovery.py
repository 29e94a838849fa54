"""What a log that was recovered from a damaged one says of that, and what it cannot say any more."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from voicelog.domain.entry import Finding
from voicelog.domain.fact import Fact
from voicelog.domain.grade import Grade
from voicelog.tongue import Worded, both, joined, worded, worded_many

RECOVERED = "recovered_from"
"""The key of the first line that tells which log it was recovered from."""

LEFT_OUT = "left-out"
"""The type of a line that stands where one of the old log could not be recovered: its number, and so
the ids of all others, stay what they were."""

WAS_SIGNED = "was-signed"
"""The type of a line that was a signature in the old log, whose bytes it vouched for."""

DENIED = "denied"
"""The key of such a line that says in what its signature was not of the lines before it, though they
were all there: somebody changed what was signed."""

PHOTO_LOST = "photo-lost"
"""The type of a line that told of a picture which was not there any more, or not as it was kept."""

CLIP_LOST = "clip_lost"
"""The key of a line that stands for ``clip`` where that sound was not there any more."""

_SHOWN = 12
"""Entries that are named in one sentence."""

CHANGES_LOST = "changes_lost"
"""The key of a line that holds changes of entries that were told of in a line left out."""


def lost_sound(fact: Fact, erased: str) -> str:
    """What became of an utterance's sound; empty where it is there, or never was.

    Args:
        fact: its line.
        erased: the day on which somebody erased it; empty where nobody did.
    """
    if erased:
        return f"its sound was erased on {erased}"
    return "its sound was lost before this log was recovered" if CLIP_LOST in fact.body else ""


def recovered_from(facts: Iterable[Fact]) -> Mapping[str, Any]:
    """What the first line says of the log that it was recovered from; empty for any other log."""
    first = next(iter(facts), None)
    told = first.body.get(RECOVERED) if first is not None else None
    return told if isinstance(told, Mapping) else {}


def lines_lost(facts: Iterable[Fact]) -> tuple[int, ...]:
    """Numbers of the lines that could not be recovered, or not in full: what was said there may have
    been anything. Line 1 is among them where nobody knows how the log was opened, or by which rules.
    """
    return tuple(fact.seq for fact in facts if _lacks(fact))


def _lacks(fact: Fact) -> bool:
    body = fact.body
    if fact.type == LEFT_OUT or CHANGES_LOST in body:
        return True
    return (fact.type == WAS_SIGNED and DENIED in body) or _opening_lost(body)


def _opening_lost(body: Mapping[str, Any]) -> bool:
    """Whether the first line, or the grammar it tells of, is not what it was; a log may have been
    recovered more than once.
    """
    told = body[RECOVERED] if RECOVERED in body else None  # noqa: SIM401  every line is asked
    while isinstance(told, Mapping):
        lost = told.get("lost")
        if told.get("grammar") or (isinstance(lost, list) and 1 in lost):
            return True
        told = told.get("before")
    return False


def warning(facts: Iterable[Fact], findings: Iterable[Finding] = ()) -> str:
    """That a log was recovered and lacks lines, to be shown with it; empty where it lacks none.

    What nobody can read any more may have been the worst of all.

    Args:
        facts: of the log.
        findings: as they stand now.
    """
    known = tuple(facts)
    if not recovered_from(known) or not lines_lost(known):
        return ""
    told = worded("This log was recovered from a damaged one")
    if missing := _missing(known):
        rest = worded("What was said there is missing, and may be worse than anything told here")
        told = joined("", (told, ": ", missing, ". ", rest))
    sentences = (joined("", (told, ".")), *_changed(known), *_graded_anew(known, findings))
    return joined(" ", sentences)


def _changed(facts: Sequence[Fact]) -> Iterator[str]:
    """That what somebody signed is not what stands here."""
    denied = [fact.seq for fact in facts if fact.type == WAS_SIGNED and DENIED in fact.body]
    if denied:
        yield worded(
            "What was signed in {lines} was changed afterwards: it may have been worse.",
            lines=lines_named(denied),
        )


def _graded_anew(facts: Sequence[Fact], findings: Iterable[Finding]) -> Iterator[str]:
    """That other rules may have held, and what was unsafe by those."""
    if not _opening_lost(facts[0].body):
        return
    yield worded(
        "How it was opened, or its copy of words, map and rules, is not what it was: grades may not"
        " be what they were."
    )
    unsafe = told_unsafe(facts)
    live = (finding for finding in findings if not finding.withdrawn)
    milder = [f.entry.id for f in live if f.entry.id in unsafe and f.grade != Grade.UNSAFE]
    if milder:
        yield worded(
            "Told as unsafe when it was said, and graded milder here: {entries}.",
            entries=_and_more(milder, _SHOWN),
        )


def told_unsafe(facts: Iterable[Fact]) -> frozenset[str]:
    """The entries of which the newest grade that was told is unsafe."""
    newest: dict[str, object] = {}
    for fact in facts:
        graded = fact.body.get("graded")
        for name, told in graded.items() if isinstance(graded, Mapping) else ():
            newest[str(name)] = told.get("grade") if isinstance(told, Mapping) else None
    return frozenset(name for name, grade in newest.items() if grade == Grade.UNSAFE)


def _missing(facts: Sequence[Fact]) -> Worded:
    """Which lines are lost, or cut, as part of a sentence; nothing where there are none."""
    lost = [fact.seq for fact in facts if fact.type == LEFT_OUT]
    cut = [fact.seq for fact in facts if CHANGES_LOST in fact.body]
    told = []
    if lost:
        told.append(worded("{lines} could not be recovered", lines=lines_named(lost)))
    if cut:
        told.append(worded("{lines} could not be applied in full", lines=lines_named(cut)))
    return both(told)


def lines_named(numbers: Sequence[int]) -> str:
    """Numbers as ``line 7``, or ``lines 7, 9–12``, shortened where they are many."""
    return worded_many("line {lines}", "lines {lines}", len(numbers), lines=spans(numbers))


def spans(numbers: Iterable[int], most: int = 12) -> str:
    """Numbers in order as ``7, 9–12``; the rest of very many as how many more runs there are."""
    runs: list[list[int]] = []
    for number in sorted(numbers):
        if runs and number == runs[-1][1] + 1:
            runs[-1][1] = number
        else:
            runs.append([number, number])
    told = [str(a) if a == b else f"{a}–{b}" for a, b in runs[:most]]
    return _and_more(told, most, len(runs))


def _and_more(told: Sequence[str], most: int, there: int | None = None) -> Worded:
    """The first of some, and how many more there are."""
    shown = Worded(", ".join(told[:most]))
    more = (len(told) if there is None else there) - most
    if more <= 0:
        return shown
    return worded("{some} and {more} more", some=shown, more=more)
