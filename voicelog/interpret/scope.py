"""What a phrase is worth where it stands: hidden places, negation, and "no" as "I mean"."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from voicelog.interpret.classes import FAULTS, PLACES, QUIET
from voicelog.interpret.cover import Item
from voicelog.interpret.gaps import LIGHT, THING
from voicelog.interpret.look import last_content, next_content

_PLACE_OR_NUMBER = (*PLACES, "side", "kerb", "seat", "end", "measure")
_SPARED = ("side", "zone", "measure")
"""What a denial reaches alone, where it comes right after: "not left, scale" denies no scale."""
_HAVING = ("has", "had", "have", "having", "got", "with", "there's")
"""Words after which "no" takes nothing back: "mine had no floor in it"."""


@dataclass(frozen=True, slots=True)
class Marked:
    """An item with what its surroundings make of it.

    Args:
        item: the item.
        negated: it is denied.
        by_sight: it is denied by what was seen ("can't see any …").
    """

    item: Item
    negated: bool = False
    by_sight: bool = False


def unhidden(items: Sequence[Item]) -> list[Item]:
    """What hides a place is none: "can't see it, tank's in the way"."""
    seen: list[Item] = []
    hiding = False
    for at, item in reversed(list(enumerate(items))):
        if item.stop:
            hiding = False
        if item.slot == "obstacle":
            hiding = True
        elif hiding and item.slot in PLACES and _hides(items, at):
            item = replace(item, slot="unknown", value="")
            hiding = False
        seen.append(item)
    return seen[::-1]


def _hides(items: Sequence[Item], at: int) -> bool:
    """Another place was named, or that this one's hides something; not where it is all that is
    named, and a thing of its own stands before it ("not seen the left mount shield in the way").
    """
    before = items[:at]
    if any(item.slot in PLACES for item in before):
        return True
    unseen = next((i for i in range(at) if items[i].value == "not-seen"), None)
    if unseen is None:
        return False
    in_one_breath = not any(item.stop for item in items[unseen:at])
    return not (in_one_breath and _thing_stands_before(items[at + 1 :]))


def _thing_stands_before(later: Sequence[Item]) -> bool:
    """Before the words that say what is in the way, the name of a thing that is no place."""
    way = next((at for at, item in enumerate(later) if item.slot == "obstacle"), 0)
    return any(_may_hide(item) for item in later[:way])


def _may_hide(item: Item) -> bool:
    """A thing, mud, or a word that the vocabulary does not know, as "splash shield", "carpet"."""
    return item.value == THING or item.slot in ("condition", "unknown", "ignore")


def apart(items: Sequence[Item]) -> list[list[Item]]:
    """The utterance cut at every *next item*, which begins the run after it."""
    runs: list[list[Item]] = [[]]
    for item in items:
        if item.slot == "act" and item.value == "next":
            runs.append([])
        runs[-1].append(item)
    return [run for run in runs if run]


def mark(items: Sequence[Item]) -> list[Marked]:
    """Negation over the items it reaches; "no" before a place or a comma becomes a repair."""
    marked: list[Marked] = []
    denial: str | None = None
    for at, item in enumerate(items):
        if _is_denial(items, at):
            item = replace(item, slot="negation", value="no")
        if _is_repair(items, at):
            marked.append(Marked(replace(item, slot="repair", value="repair")))
            continue
        denial = _denial_at(item, denial)
        if denial is not None and _is_spent(items, at):
            denial = None
        reached = denial is not None and item.slot != "negation" and _may_deny(denial, items, at)
        marked.append(Marked(item, reached, reached and denial == "seen"))
        if denial is not None and _denial_ends(items, at):
            denial = None
    return marked


def _may_deny(denial: str, items: Sequence[Item], at: int) -> bool:
    """ "Hardly any rust" is some, "hardly solid" not solid; "hasn't" denies but what comes next."""
    item = items[at]
    if denial == "next":
        return _comes_next(items, at)
    good = item.slot in ("clear", "good") or (item.slot, item.value) == ("probe", "firm")
    return good or denial != "hardly"


def _comes_next(items: Sequence[Item], at: int) -> bool:
    """Small words at most stand between it and the denial."""
    before = next((item for item in reversed(items[:at]) if item.value != LIGHT), None)
    return before is not None and before.slot == "negation" and not before.stop


def _denial_at(item: Item, denial: str | None) -> str | None:
    """The value of the negation in force, None where there is none."""
    if item.slot == "negation":
        return item.value
    ends = item.slot in ("contrast", "act", "repair") or (item.slot, item.value) == ("join", "and")
    return None if ends else denial


def _is_spent(items: Sequence[Item], at: int) -> bool:
    """ "No rot, rings true", "no cracks nothing wrong": after one denied fault a probe or a good word
    is told, and so is another fault, unless a list goes on ("no cracks, scale or holes").
    """
    before = last_content(items, at)
    if before is None or before.slot not in FAULTS:
        return False
    fault = items[at].slot in FAULTS and not _list_goes_on(items, at)
    return items[at].slot in ("probe", "clear", "good") or fault


def _denial_ends(items: Sequence[Item], at: int) -> bool:
    return _denied_alone(items, at) or (bool(items[at].stop) and not _list_goes_on(items, at))


def _denied_alone(items: Sequence[Item], at: int) -> bool:
    """ "Not left, …", yet "neither mount has any rust": both are denied it."""
    if items[at].slot not in _SPARED or items[at - 1].also:
        return False
    before = last_content(items, at)
    return before is not None and before.slot == "negation"


def _is_denial(items: Sequence[Item], at: int) -> bool:
    """ "Um no holes": a repair with nothing before it, right before a fault."""
    item, following = items[at], next_content(items, at)
    bare = item.slot == "repair" and item.text.endswith(" no") and not item.stop
    return bare and following is not None and following.slot in FAULTS


def _is_repair(items: Sequence[Item], at: int) -> bool:
    item = items[at]
    if item.slot != "negation" or item.text not in ("no", "nope", "nah"):
        return False
    if at > 0 and items[at - 1].text in _HAVING and not items[at - 1].stop:
        return False
    following = next_content(items, at)
    return bool(item.stop) or (following is not None and following.slot in _PLACE_OR_NUMBER)


def _list_goes_on(items: Sequence[Item], at: int) -> bool:
    """After "no holes," does a list go on ("cracks or scale") or a new remark begin?"""
    for item in items[at + 1 :]:
        if item.slot == "join" and item.value == "or":
            return True
        if item.slot not in (*FAULTS, *QUIET):
            break
    return False
