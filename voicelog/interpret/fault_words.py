"""Words that say how the metal is, as they come: faults, good words, traces of earlier work."""

from __future__ import annotations

from dataclasses import replace

from voicelog.domain.reading import Act
from voicelog.interpret.cover import Item
from voicelog.interpret.detail_words import UNDERNEATH, is_under_cover
from voicelog.interpret.hand import Hand
from voicelog.interpret.look import next_content
from voicelog.interpret.merging import merged
from voicelog.interpret.scope import Marked

_REPAIR = "old-repair"
_BAD = "bad"
"""Value of words by which a thing is not good: "has had it"."""


def on_condition(hand: Hand, word: Marked) -> None:
    """A fault: denied, nothing new, more about the one at hand, or the next one."""
    item = word.item
    if word.negated:
        _deny(hand, word)
    elif not (_is_idle(hand, item) or _merges(hand, item)):
        _make_room(hand, item)
        _place(hand, item)


def on_clear(hand: Hand, word: Marked) -> None:
    """ "Clean", "solid": of this place, or of another face of it; "has had it" is the contrary."""
    now = hand.now
    if now.condition is not None and hand.look.after_stop and _is_of_another_face(hand):
        hand.close()  # "… scale along the bottom, clean on top"
    if word.negated or word.item.value == _BAD:
        hand.now.denied_good = hand.now.denied_good or word.negated != (word.item.value == _BAD)
    elif word.item.slot == "good":
        hand.now.approved = True
    else:
        hand.now.clear = True


def _is_of_another_face(hand: Hand) -> bool:
    """Not "only dirt, solid underneath": under what covers the metal."""
    following = next_content(hand.look.items, hand.look.at)
    return (
        following is not None and following.slot == "face" and not is_under_cover(hand, following)
    )


def on_tag(hand: Hand, word: Marked) -> None:
    """Earlier work at a place that is named is an old repair there."""
    if word.item.value == "earlier-work" and hand.now.zones:
        repair = replace(word.item, slot="condition", value=_REPAIR)
        on_condition(hand, replace(word, item=repair))


def _deny(hand: Hand, word: Marked) -> None:
    """ "No holes"; "pitting, sorry, not pitting" takes back, and another fault may follow."""
    now, item = hand.now, word.item
    if now.condition is not None and now.condition.value == item.value:
        now.condition = None
        hand.repairing = True
    else:
        now.absent.append(item.value)
        now.by_sight = now.by_sight or word.by_sight
        now.clear = now.clear or _under_dirt(hand)


def _under_dirt(hand: Hand) -> bool:
    """ "Caked in mud, no rust underneath": the metal was looked at, and is good."""
    kept = hand.now.condition
    later = next_content(hand.look.items, hand.look.at)
    dirty = kept is not None and kept.value == "debris"
    return dirty and later is not None and later.text in UNDERNEATH


def _is_idle(hand: Hand, item: Item) -> bool:
    """A fault that is named without being reported."""
    now = hand.now
    unseen = now.act is Act.NOT_SEEN
    pictured = now.act is Act.PHOTO and hand.look.after_preposition()
    return unseen or pictured or _restates(hand, item) or _refers(hand)


def _restates(hand: Hand, item: Item) -> bool:
    """A fault named a second time with nothing new ("pitting, light rust in the pits")."""
    now = hand.now
    measured = any(number.measure is not None for number in now.numbers)
    fresh = now.placed or now.others or measured or now.past
    named = any(draft.condition and draft.condition.value == item.value for draft in hand.done)
    return named and not fresh and not hand.repairing and item.slot == "condition"


def _refers(hand: Hand) -> bool:
    """ "From the lower hole" says where; "patched, it used to be rusty" why it was patched."""
    kept = hand.now.condition
    if kept is None:
        return False
    landmark = hand.relation is not None and hand.look.is_landmark_of(hand.relation)
    return landmark or (hand.past and kept.value == _REPAIR)


def _merges(hand: Hand, item: Item) -> bool:
    """ "Scale, coming off in layers": one trouble in two words."""
    kept = hand.now.condition
    if kept is None or _replaces(hand, item) or _begins_again(hand):
        return False
    whole = merged(kept, item, apart=hand.joined and not hand.accompanied)
    hand.now.condition = whole or kept
    return whole is not None


def _begins_again(hand: Hand) -> bool:
    """ "Hole, left sill, twenty, hole, right sill": told in the order in which the first was."""
    now, look = hand.now, hand.look
    told = now.placed and bool(now.zones) and not now.place_first
    return told and look.after_stop and look.own_place_follows()


def _replaces(hand: Hand, item: Item) -> bool:
    """ "Pitting, no, scale", and "used to be rusty, patched"."""
    return hand.repairing or (hand.now.past and item.value == _REPAIR)


def _make_room(hand: Hand, item: Item) -> None:
    now = hand.now
    if now.condition is None:
        good = now.clear or now.approved or bool(now.absent)
        if good and now.placed and hand.look.own_place_follows():
            hand.close()
    elif _replaces(hand, item):
        now.condition = None
    else:
        hand.close()


def _place(hand: Hand, item: Item) -> None:
    _take_count(hand)
    hand.now.condition = item
    hand.settle()
    hand.hedged = hand.past = False


def _take_count(hand: Hand) -> None:
    """ "Scale, three holes": the number right before a condition goes with it."""
    if not hand.done or not hand.now.empty or not hand.done[-1].numbers:
        return
    number = hand.done[-1].numbers[-1]
    if _counts(number) and all(item.slot == "filler" for item in hand.look.since(number.end)):
        hand.done[-1].numbers.pop()
        hand.now.numbers.append(number)
        hand.now.items.append(number)


def _counts(number: Item) -> bool:
    bare = number.measure is not None and number.measure.quantity == "number"
    return bare and not number.stop
