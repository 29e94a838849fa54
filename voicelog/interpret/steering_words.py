"""Words that steer how others are taken, as they come: control words, "and", "no", "maybe"."""

from __future__ import annotations

from dataclasses import replace

from voicelog.domain.reading import Act
from voicelog.interpret.cover import Item
from voicelog.interpret.hand import Hand
from voicelog.interpret.scope import Marked

_STANDS_ALONE = (
    Act.DISREGARD, Act.SAY_AGAIN, Act.READ_BACK, Act.WHAT_IS_OPEN, Act.STAND_BY, Act.GO_AHEAD, Act.AFFIRM,
    Act.NEGATIVE, Act.FINISH,
)  # fmt: skip


def on_act(hand: Hand, word: Marked) -> None:
    """A control word: it begins a draft of its own, unless it says nothing new."""
    item = word.item
    if item.value == "next" or (word.negated and item.value == "photo"):
        return
    if item.value == "amend" and not hand.now.empty:
        hand.repairing = True  # "soft, no it's firm", said in one breath
        return
    act = Act.CORRECTION if item.value == "amend" else Act(item.value)
    if act is not Act.NOT_SEEN or not _hides(hand):
        _begin(hand, act, item)


def on_obstacle(hand: Hand, word: Marked) -> None:
    """What stands before a place leaves it unseen; its words stay in the reason."""
    unseen = replace(word.item, slot="act", value=str(Act.NOT_SEEN))
    on_act(hand, replace(word, item=unseen))


def on_repair(hand: Hand, _word: Marked) -> None:
    """ "No, …": of the draft at hand, or of an earlier utterance where it comes first."""
    if hand.now.empty and not hand.done:
        hand.now.act = Act.CORRECTION
    else:
        hand.repairing = True


def on_join(hand: Hand, word: Marked) -> None:
    """ "And", "or", "along with"."""
    hand.joined = hand.joined or word.item.value == "and"
    hand.accompanied = word.item.text.endswith("with")


def on_hedge(hand: Hand, word: Marked) -> None:
    """ "Maybe", of what was said or of what comes; beside a number it is the number's."""
    look, stopped = hand.look, bool(word.item.stop)
    counted = look.comes_after("measure") or look.comes_after("label")
    if look.follows("measure") or (counted and (stopped or look.ends)):
        return  # "i think it's about thirty": the number is unsure, not the fault
    if hand.now.describes and not stopped:
        hand.hedged = True
    else:
        hand.now.tentative = True


def on_past(hand: Hand, word: Marked) -> None:
    """ "Used to", of the fault that comes; "snapped one time," of the one before it."""
    if word.item.stop and hand.now.condition is not None:
        hand.now.past = True
    else:
        hand.past = True


def _hides(hand: Hand) -> bool:
    """ "Can't see it for mud": the dirt is why; and what is unseen may be called so twice."""
    now = hand.now
    if now.condition is not None and now.condition.value == "debris":
        now.condition = None
        now.act = Act.NOT_SEEN
        return True
    return now.act is Act.NOT_SEEN and not now.describes


def _begin(hand: Hand, act: Act, item: Item) -> None:
    if hand.now.describes or hand.now.act is not Act.REPORT or act in _STANDS_ALONE:
        hand.settle()
        hand.close()
    hand.now.act = act
    if act in _STANDS_ALONE:
        hand.now.items.append(item)
        hand.close()
