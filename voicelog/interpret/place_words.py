"""Words that say where, as they come: names of places, sides, ends and landmarks."""

from __future__ import annotations

from dataclasses import replace

from voicelog.domain.reading import Act
from voicelog.interpret.classes import PLACES
from voicelog.interpret.cover import Item
from voicelog.interpret.detail_words import on_detail
from voicelog.interpret.hand import Hand
from voicelog.interpret.look import last_content
from voicelog.interpret.scope import Marked

_WHOLE_ACTS = (Act.CORRECTION, Act.NOT_SEEN)
"""Acts that take a place wherever it is said."""


def on_zone(hand: Hand, word: Marked) -> None:
    """A name: a landmark, the place at hand once more or put right, or the next place."""
    now = hand.now
    if _denied(hand, word) or _is_landmark(hand, word.item) or _is_named(hand, word.item):
        return
    if _is_where_it_sits(hand, word.item):
        return
    if hand.repairing and now.zones:
        _rename(hand, word.item)
    elif now.act in _WHOLE_ACTS and not now.zones and not hand.goes_on():
        now.zones.append(word.item)
    else:
        _add_zone(hand, word.item)


def on_side(hand: Hand, word: Marked) -> None:
    """A side: of the place at hand, put right, or of the next one; "left" may be metal."""
    now = hand.now
    if _denied(hand, word):
        hand.repairing = hand.repairing or bool(now.sides)  # "left, uh, not left, right"
    elif hand.relation is not None and now.sides:
        return  # "… left rail, hole next to the right hanger": the landmark's
    elif now.numbers and hand.look.is_metal_left():
        now.numbers.append(word.item)
    elif hand.look.is_left_behind():
        return
    else:
        _put_side(hand, word.item)


def on_end(hand: Hand, word: Marked) -> None:
    """ "The middle's good": a side, where no name follows that it could tell apart."""
    if word.item.value == "middle" and not hand.look.follows(*PLACES):
        on_side(hand, replace(word, item=replace(word.item, slot="side", value="centre")))
    else:
        on_detail(hand, word)


def on_negation(hand: Hand, word: Marked) -> None:
    """What the word says besides: "neither" means both sides; at the end, what was good is not."""
    item, look = word.item, hand.look
    if look.ends and look.comes_after("contrast") and (hand.now.clear or hand.now.approved):
        hand.now.denied_good = True  # "it was solid once but now it isn't"
    if "side" not in item.also or hand.now.sides:
        return
    if look.follows(*PLACES) or "of them" in item.text:
        hand.now.sides.append(replace(item, slot="side", value=item.also["side"]))


def on_relation(hand: Hand, word: Marked) -> None:
    """ "Next to the", "six inches from": the place that follows is a landmark."""
    hand.relation = word.item
    hand.now.landmarks.append((word.item, None))


def _denied(hand: Hand, word: Marked) -> bool:
    """ "Not the sill": the place right after the denial; "neither mount" denies of both."""
    before = last_content(hand.look.items, hand.look.at)
    denial = before is not None and before.slot == "negation" and not before.also.get("side")
    return word.negated and denial


def _is_landmark(hand: Hand, item: Item) -> bool:
    """ "By the hanger", "between the hanger and the cross member": taken as where it is near."""
    if hand.relation is not None:
        hand.now.landmarks[-1:] = [(hand.relation, item)]
        hand.between = hand.relation.text == "between"
        hand.relation = None
        return True
    second = hand.between and hand.joined
    hand.between = hand.between and not second
    return second


def _is_where_it_sits(hand: Hand, item: Item) -> bool:
    """ "Seat belt anchor on the left sill": the anchor is meant, and the sill says where it is.

    Taken the other way round, a mounting would be graded as the milder member that it sits on.
    """
    now = hand.now
    if (
        not now.zones
        or now.says
        or now.act is not Act.REPORT
        or not hand.look.sits_on(now.zones[-1])
    ):
        return False
    now.landmarks.append((hand.look.since(now.zones[-1].end)[0], item))
    return True


def _is_named(hand: Hand, item: Item) -> bool:
    """The same place once more, unless that is for its other side or another unseen one."""
    now = hand.now
    same = any(zone.value == item.value for zone in now.zones)
    return same and not now.describes and not hand.goes_on()


def _rename(hand: Hand, item: Item) -> None:
    """ "Left front rail, no, rear rail": the end went with the wrong name."""
    hand.now.zones[-1:] = [item]
    for slot in ("face", "end"):
        hand.now.others.pop(slot, None)


def _add_zone(hand: Hand, item: Item) -> None:
    now = hand.now
    if _starts_place(hand, bool(now.zones)):
        _begin_place(hand)
    elif now.zones and not hand.joined and not (now.act is Act.REPORT and hand.look.is_listed()):
        hand.close()
    else:
        now.place_first = now.place_first or not now.says
    hand.now.zones.append(item)


def _put_side(hand: Hand, item: Item) -> None:
    now = hand.now
    if hand.repairing and now.sides:
        now.sides[-1:] = [item]
    elif _side_starts_place(hand) or _is_of_next(hand):
        _begin_place(hand)
        hand.now.sides.append(item)
    elif now.sides and not hand.joined and not now.describes:
        now.sides[:] = [item]
    else:
        now.sides.append(item)
        now.place_first = now.place_first or not now.says


def _side_starts_place(hand: Hand) -> bool:
    now = hand.now
    takes_any = now.act in _WHOLE_ACTS and not hand.goes_on()
    return not takes_any and _starts_place(hand, bool(now.sides))


def _is_of_next(hand: Hand) -> bool:
    """ "Left front rail. Right rear rail, hole": the place at hand is whole, and a name follows."""
    now, look = hand.now, hand.look
    whole = bool(now.zones) and (bool(now.sides) or look.after_stop)
    return whole and not hand.joined and not now.describes and look.follows(*PLACES)


def _begin_place(hand: Hand) -> None:
    """A new draft; joined by "and", it shares what was found: "… and right rear rail"."""
    listed = hand.now.act is Act.REPORT and hand.look.is_listed()
    shares = (hand.joined or listed) and hand.now.describes
    hand.close()
    hand.now.shares = shares
    hand.now.place_first = True


def _starts_place(hand: Hand, taken: bool) -> bool:
    """Does a place word begin a new draft rather than belong to the one at hand?

    Args:
        hand: what is in hand.
        taken: whether that has a word of this kind already.
    """
    now, look = hand.now, hand.look
    if hand.goes_on():
        return True
    if now.act is Act.REPORT and not now.says:
        return False
    if taken or look.trails():
        return taken  # a side at the very end belongs to what was said before it
    return now.says and _place_leads(hand) and not look.after_preposition()


def _place_leads(hand: Hand) -> bool:
    """Places are said before what is found there: in this draft, or in the one that lends its."""
    now = hand.now
    lent = bool(hand.done) and not now.placed and hand.look.after_stop
    return now.place_first or (lent and hand.done[-1].place_first)
