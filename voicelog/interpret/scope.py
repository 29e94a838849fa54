"""What a phrase is worth where it stands: talk, questions, negation, and "no" as "I mean"."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from voicelog.interpret.cover import Item

CONTENT = frozenset(
    ("condition", "rot", "rust", "zone", "family", "clear", "probe", "act", "spoken_grade")
)
"""Slots that say something about the metal or steer the program."""

DESCRIBING = ("condition", "rot", "rust", "clear", "good", "probe")
_QUIET = ("filler", "unknown")
_PLACE_OR_NUMBER = ("side", "zone", "kerb", "seat", "measure", "family", "end")


@dataclass(frozen=True, slots=True)
class Marked:
    """An item with what its surroundings make of it."""

    item: Item
    negated: bool = False
    by_sight: bool = False


def unhidden(items: Sequence[Item]) -> list[Item]:
    """What hides a place is none: "can't see it, tank's in the way"."""
    seen: list[Item] = []
    hiding = False
    for item in reversed(items):
        if item.stop:
            hiding = False
        if item.slot == "obstacle":
            hiding = True
        elif hiding and item.slot in ("zone", "family"):
            item = replace(item, slot="unknown", value="")
        seen.append(item)
    return seen[::-1]


def apart(items: Sequence[Item]) -> list[list[Item]]:
    """The utterance cut at every *next item*, which begins the run after it."""
    runs: list[list[Item]] = [[]]
    for item in items:
        if item.slot == "act" and item.value == "next":
            runs.append([])
        runs[-1].append(item)
    return [run for run in runs if run]


def split_talk(items: Sequence[Item]) -> tuple[list[Item], list[list[Item]]]:
    """Items that report, and runs of items that are talk, questions or suppositions.

    A marker ("is it", "if", "tell him") claims the rest of its sentence, and the start of its
    clause too unless something was reported there.
    """
    report: list[Item] = []
    talk: list[list[Item]] = []
    for sentence in _sentences(_without_suppositions(items)):
        cut = _talk_starts(sentence)
        report.extend(sentence[:cut])
        if cut < len(sentence):
            talk.append(sentence[cut:])
    return report, talk


def _without_suppositions(items: Sequence[Item]) -> list[Item]:
    """What was only thought ("i thought that was a hole, it's the drain"): the marker takes the rest
    of its clause, to the next stop or "but".
    """
    kept: list[Item] = []
    supposed = False
    for item in items:
        supposed = (supposed and item.slot != "contrast") or item.value == "clause"
        if not supposed:
            kept.append(item)
        supposed = supposed and not item.stop
    return kept


def _sentences(items: Sequence[Item]) -> list[list[Item]]:
    sentences: list[list[Item]] = [[]]
    for item in items:
        sentences[-1].append(item)
        if item.stop in (".", "?"):
            sentences.append([])
    return [sentence for sentence in sentences if sentence]


def _talk_starts(sentence: Sequence[Item]) -> int:
    asked = sentence[-1].stop == "?"
    markers = ("question", "hypothetical", "address")
    placed = any(item.slot in ("zone", "family") for item in sentence)
    for index, item in enumerate(sentence):
        if item.value == "opener" and not _opens(sentence, index):
            continue
        if item.value == "person" and placed:
            continue
        if item.slot in markers and not _polite(sentence, index):
            start = _clause_start(sentence, index)
            return index if _reported(sentence[:index]) else start
    return 0 if asked and not _tag_only(sentence) else len(sentence)


def _opens(sentence: Sequence[Item], index: int) -> bool:
    """A question word first of all, or after a breath: not "i can push it"."""
    before = sentence[index - 1] if index else None
    return before is None or bool(before.stop) or before.slot in ("ignore", "join")


def _reported(before: Sequence[Item]) -> bool:
    """Something was reported before the marker: with its place, or closed by a comma."""
    describes = any(item.slot in DESCRIBING for item in before)
    placed = any(item.slot in ("zone", "family", "side") for item in before)
    return describes and (placed or bool(before[-1].stop))


_VOCATIVES = ("mate", "buddy", "cheers mate", "thanks", "thank you", "hey", "you know")


def _polite(sentence: Sequence[Item], index: int) -> bool:
    """A marker at the very end, after a report, only addresses somebody ("…, mate")."""
    ends = index == len(sentence) - 1 and sentence[index].text in _VOCATIVES
    return ends and any(i.slot in DESCRIBING for i in sentence[:index])


def _tag_only(sentence: Sequence[Item]) -> bool:
    """A control word said with a rising voice is still a control word."""
    return len([i for i in sentence if i.slot not in _QUIET]) == 1 and sentence[0].slot == "act"


def _clause_start(sentence: Sequence[Item], index: int) -> int:
    while index > 0 and not sentence[index - 1].stop:
        index -= 1
    return index


def mark(items: Sequence[Item]) -> list[Marked]:
    """Negation over the items it reaches; "no" before a place or a comma becomes a repair."""
    marked: list[Marked] = []
    negating = by_sight = False
    for index, item in enumerate(items):
        if item.slot == "negation":
            if _is_repair(items, index):
                marked.append(Marked(replace(item, slot="repair", value="repair")))
                continue
            negating, by_sight = True, item.value == "seen"
            marked.append(Marked(item))
        else:
            if item.slot in ("contrast", "act", "repair") or _is_and(item):
                negating = False
            marked.append(Marked(item, negating, by_sight and negating))
            if (
                negating
                and item.slot in ("side", "zone", "measure")
                and _just_after_no(items, index)
                and not items[index - 1].also  # "neither mount has any rust": both are denied it
            ):
                negating = False
        if negating and item.stop and not _list_goes_on(items, index):
            negating = False
    return marked


def _is_and(item: Item) -> bool:
    return item.slot == "join" and item.value == "and"


def _is_repair(items: Sequence[Item], index: int) -> bool:
    item = items[index]
    if item.text not in ("no", "nope", "nah"):
        return False
    following = next_content(items, index)
    return bool(item.stop) or (following is not None and following.slot in _PLACE_OR_NUMBER)


def _just_after_no(items: Sequence[Item], index: int) -> bool:
    before = [i for i in items[:index] if i.slot not in _QUIET]
    return bool(before) and before[-1].slot == "negation"


def _list_goes_on(items: Sequence[Item], index: int) -> bool:
    """After "no holes," does a list go on ("cracks or scale") or a new remark begin?"""
    for item in items[index + 1 :]:
        if item.slot == "join" and item.value == "or":
            return True
        if item.slot not in ("condition", "rust", "rot", *_QUIET):
            return False
    return False


def next_content(items: Sequence[Item], index: int) -> Item | None:
    """The next item that is not a filler."""
    return next((item for item in items[index + 1 :] if item.slot not in _QUIET), None)
