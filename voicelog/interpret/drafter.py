"""Drafting: the items of an utterance gathered into one draft for each thing said.

A new draft begins where a second condition, place or control word would not fit the one at hand;
"no, …" replaces instead. Nothing is decided here about what was said in earlier utterances.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from voicelog.interpret.classes import FAULTS, PLACES, SIDES
from voicelog.interpret.cover import Item
from voicelog.interpret.detail_words import on_detail, on_number
from voicelog.interpret.draft import Draft
from voicelog.interpret.fault_words import on_clear, on_condition, on_tag
from voicelog.interpret.gaps import THING
from voicelog.interpret.hand import Hand
from voicelog.interpret.look import Look
from voicelog.interpret.place_words import on_end, on_negation, on_relation, on_side, on_zone
from voicelog.interpret.scope import Marked
from voicelog.interpret.steering_words import (
    on_act,
    on_hedge,
    on_join,
    on_obstacle,
    on_past,
    on_repair,
)


def _on_talk(_hand: Hand, _word: Marked) -> None:
    """Fillers, unknown words and talk only lend their text."""


_HANDLERS: Mapping[str, Callable[[Hand, Marked], None]] = {
    **dict.fromkeys(("filler", "unknown", "ignore", "contrast", "attention"), _on_talk),
    **dict.fromkeys(("question", "hypothetical", "address"), _on_talk),
    **dict.fromkeys(PLACES, on_zone),
    **dict.fromkeys(SIDES, on_side),
    **dict.fromkeys(FAULTS, on_condition),
    **dict.fromkeys(("clear", "good"), on_clear),
    **dict.fromkeys(("measure", "label", "lead", "ordinal"), on_number),
    "end": on_end,
    "negation": on_negation,
    "relation": on_relation,
    "tag": on_tag,
    "act": on_act,
    "obstacle": on_obstacle,
    "repair": on_repair,
    "join": on_join,
    "hedge": on_hedge,
    "past": on_past,
}
"""Who takes a word of which class; the rest are details."""

_PASSING = ("filler", "unknown", "ignore", "join", "repair", "relation", "hedge")
"""Words across which "and" and "no" still reach."""
_IT = ("it", "it's", "them")
"""Words that stand for a landmark named before."""
_KEEPS_REPAIRING = ("contrast", "negation", "past", "ordinal", "label", "lead")
"""Words across which "no" reaches besides: "no, not the left, the right"."""


def drafts(marked: Sequence[Marked]) -> list[Draft]:
    """The things said, in order; shared places and conditions are not filled in yet."""
    items = [word.item for word in marked]
    hand = Hand(Look(items, 0))
    for at, word in enumerate(marked):
        hand.look = Look(items, at)
        _take(hand, _in_its_place(hand.look, word))
    hand.settle()
    hand.close()
    return [draft for draft in hand.done if not draft.empty]


def _in_its_place(look: Look, word: Marked) -> Marked:
    """ "Thirty percent gone": a loss rather than rot."""
    if word.item.slot != "rot" or not look.is_share():
        return word
    return replace(word, item=replace(word.item, slot="label", value="loss_percent"))


def _take(hand: Hand, word: Marked) -> None:
    before = hand.now
    _HANDLERS.get(word.item.slot, on_detail)(hand, word)
    hand.now.items.append(word.item)
    _pass(hand, word.item, hand.now is not before)


def _pass(hand: Hand, item: Item, begun: bool) -> None:
    """What an "and", a "no" or a "next to" reaches no further than this item.

    Args:
        hand: what is in hand.
        item: the item just taken.
        begun: whether it began a new draft.
    """
    if item.slot not in _PASSING:
        hand.joined = hand.joined and item.slot in SIDES
        if item.slot not in _KEEPS_REPAIRING and item.value != "amend":
            hand.repairing = hand.repairing and not begun and item.slot in ("measure", *SIDES)
    if _is_landmark_itself(item) or (item.stop and item.slot not in ("relation", "filler")):
        hand.relation = None


def _is_landmark_itself(item: Item) -> bool:
    """ "Behind it, and …", "from the bolt, …": the landmark is no name that is still to come."""
    thing = item.slot == "filler" and item.value == THING and bool(item.stop)
    return thing or item.text in _IT
