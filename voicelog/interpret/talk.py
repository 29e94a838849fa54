"""What of an utterance is talk rather than a report: questions, suppositions, words to people."""

from __future__ import annotations

from collections.abc import Sequence

from voicelog.interpret.classes import DESCRIBING, PLACES, QUIET
from voicelog.interpret.cover import Item

_MARKERS = ("question", "hypothetical", "address")
_VERBS = ("is", "was", "are", "were", "has", "had")
_WHERE = (*PLACES, "side", "kerb", "seat")
_VOCATIVES = ("mate", "buddy", "cheers mate", "thanks", "thank you", "hey", "you know")


def split_talk(items: Sequence[Item]) -> tuple[list[Item], list[list[Item]]]:
    """Items that report, and runs of items that are talk, questions or suppositions.

    A marker ("is it", "if", "tell him") claims the rest of its sentence, and the start of its
    clause too unless something was reported there.
    """
    report: list[Item] = []
    talk: list[list[Item]] = []
    for sentence in _sentences(_without_suppositions(items)):
        cut = _talk_starts(sentence)
        end = _talk_ends(sentence, cut)
        report.extend(sentence[:cut] + sentence[end:])
        if cut < end:
            talk.append(sentence[cut:end])
    return report, talk


def _without_suppositions(items: Sequence[Item]) -> list[Item]:
    """What was only thought ("i thought that was a hole, it's the drain"): the marker takes the rest
    of its clause, to the next stop or "but".
    """
    kept: list[Item] = []
    supposed = False
    for at, item in enumerate(items):
        supposed = (supposed and item.slot != "contrast") or item.value == "clause"
        if not supposed or (item.slot in _WHERE and _is_told_after(items[at:])):
            kept.append(item)
        supposed = supposed and not item.stop
    return kept


def _is_told_after(items: Sequence[Item]) -> bool:
    """Of "thought it was a hole in the sill, it's only mud" the sill holds: no other is named."""
    end = next((at + 1 for at, item in enumerate(items) if item.stop), len(items))
    told = any(item.slot in DESCRIBING for item in items[end:])
    return told and not any(item.slot in PLACES for item in items[end:])


def _sentences(items: Sequence[Item]) -> list[list[Item]]:
    sentences: list[list[Item]] = [[]]
    for item in items:
        sentences[-1].append(item)
        if item.stop in (".", "?"):
            sentences.append([])
    return [sentence for sentence in sentences if sentence]


def _talk_starts(sentence: Sequence[Item]) -> int:
    """Index of the first item of talk, after the last one where there is none."""
    placed = any(item.slot in PLACES for item in sentence)
    for at in range(len(sentence)):
        if _marks_talk(sentence, at, placed):
            return at if _reported(sentence[:at]) else _clause_start(sentence, at)
    asked = sentence[-1].stop == "?" and not _is_control(sentence)
    return 0 if asked else len(sentence)


def _talk_ends(sentence: Sequence[Item], cut: int) -> int:
    """ "Seller said it's only dirt, but the left rail is rotten": what comes after "but" with a place."""
    for at in range(cut + 1, len(sentence)):
        turns = (
            sentence[at].slot == "contrast" and sentence[at].text == "but" and sentence[at - 1].stop
        )
        if turns and any(item.slot in PLACES for item in sentence[at:]):
            return at
    return len(sentence)


def _marks_talk(sentence: Sequence[Item], at: int, placed: bool) -> bool:
    item = sentence[at]
    if item.slot not in _MARKERS or _is_polite(sentence, at):
        return False
    if item.slot == "question" and (_is_tail(sentence, at) or _is_self_asked(sentence, at)):
        return False
    if item.value == "opener":
        return _opens(sentence, at)
    return item.value != "person" or not placed


def _opens(sentence: Sequence[Item], at: int) -> bool:
    """A question word first of all, or after a breath: not "i can push it"."""
    before = sentence[at - 1] if at else None
    return before is None or bool(before.stop) or before.slot in ("ignore", "join")


def _is_tail(sentence: Sequence[Item], at: int) -> bool:
    """ "All that was there of it", "next along is the outrigger": the verb of what came before."""
    if at == 0 or sentence[at - 1].stop:
        return False
    relative = sentence[at - 1].slot == "relation" or sentence[at - 1].text == "that"
    return relative and sentence[at].text.split()[0] in _VERBS


def _is_self_asked(sentence: Sequence[Item], at: int) -> bool:
    """ "What have we here, a lump of filler in the sill": asked and answered in one breath."""
    end = next((i + 1 for i in range(at, len(sentence)) if sentence[i].stop), len(sentence))
    start = _clause_start(sentence, at)
    asked = sentence[start:end]
    idle = (*QUIET, "question", "ignore", "join")
    words = " ".join(item.text for item in asked).split()
    own = "you" not in words and ("what" in words or "what's" in words)
    answered = any(item.slot in (*DESCRIBING, "measure") for item in sentence[end:])
    return own and answered and all(item.slot in idle for item in asked)


def _is_polite(sentence: Sequence[Item], at: int) -> bool:
    """A marker at the very end, after a report, only addresses somebody ("…, mate")."""
    ends = at == len(sentence) - 1 and sentence[at].text in _VOCATIVES
    return ends and any(item.slot in DESCRIBING for item in sentence[:at])


def _reported(before: Sequence[Item]) -> bool:
    """Something was reported before the marker: with its place, or closed by a comma."""
    describes = any(item.slot in DESCRIBING for item in before)
    placed = any(item.slot in (*PLACES, "side") for item in before)
    return describes and (placed or bool(before[-1].stop))


def _is_control(sentence: Sequence[Item]) -> bool:
    """A control word said with a rising voice is still a control word."""
    return len([i for i in sentence if i.slot not in QUIET]) == 1 and sentence[0].slot == "act"


def _clause_start(sentence: Sequence[Item], at: int) -> int:
    while at > 0 and not sentence[at - 1].stop:
        at -= 1
    return at
