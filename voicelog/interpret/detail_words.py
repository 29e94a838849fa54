"""Numbers with what they count, and details such as faces, probes and methods, as they come."""

from __future__ import annotations

from dataclasses import replace

from voicelog.domain.slot import METHODS, PROBES
from voicelog.interpret.classes import FAULTS, LABELS
from voicelog.interpret.cover import Item
from voicelog.interpret.hand import Hand
from voicelog.interpret.look import last_content, next_content
from voicelog.interpret.measures import Measure
from voicelog.interpret.scope import Marked

UNDERNEATH = ("underneath", "underneath it", "under it", "under that")
_UNDER_IT = UNDERNEATH[1:]
_COVERS = ("debris", "peeling-coating", "recoated", "blistering")
"""What covers the metal: "underneath" is under it."""
_UNITED = ("length", "percent", "area")
"""Quantities whose unit a corrected number takes over."""
_ORDERS = {"probe": PROBES, "method": METHODS}
"""Of two probes the worse counts, of two methods the stronger; of anything else the later."""


def on_number(hand: Hand, word: Marked) -> None:
    """A number or its label; a denied number ("not three") says nothing."""
    item = word.item
    if word.negated and item.slot not in (*LABELS, "ordinal"):
        hand.now.contrasted = True
        return
    if _counts_another(hand, item) or _next_of_a_row(hand, item):
        hand.settle()
        hand.close()
    now = hand.now
    if hand.repairing and item.slot == "measure" and not hand.look.comes_after("lead"):
        if _takes_place(hand, item):
            hand.repairing = False  # what comes is told besides: "…, no, two, three when new"
            return
        now.numbers = [number for number in now.numbers if number.slot != "measure"]
    now.numbers.append(item)


def on_detail(hand: Hand, word: Marked) -> None:
    """A face, a probe, a method and the like; a denied probe or method is none."""
    item = word.item
    if word.negated and item.slot == "probe":
        _deny_probe(hand, item)
        return
    if _is_undone(hand, word) or is_under_cover(hand, item):
        return
    if _elsewhere(hand, item):
        hand.close()
        hand.now.place_first = True
    others = hand.now.others
    if hand.repairing or item.slot not in others or not _weaker(item, others[item.slot]):
        others[item.slot] = item


def _takes_place(hand: Hand, item: Item) -> bool:
    """ "Six inches from the hanger, no, eight": it stands where the last number stood, in its unit.

    Returns:
        False where it says by itself what it measures; nothing was done.
    """
    now, last = hand.now, next((n for n in reversed(hand.now.numbers) if n.measure), None)
    if last is None or last.measure is None or item.measure is None:
        return False
    told = item.measure
    if told.quantity == "number" and last.measure.quantity in _UNITED:
        told = _in_unit_of(told, last.measure)
    own = not item.stop and (hand.look.follows(*LABELS, *FAULTS, "relation") or _left_follows(hand))
    if own or told.quantity != last.measure.quantity:
        return False
    corrected = replace(last, measure=told)
    for kept in (now.numbers, now.items):
        kept[:] = [corrected if one is last else one for one in kept]
    return True


def _left_follows(hand: Hand) -> bool:
    """ "… no, two point two left": metal that remains."""
    following = next_content(hand.look.items, hand.look.at)
    return following is not None and following.text == "left"


def _in_unit_of(bare: Measure, last: Measure) -> Measure:
    """ "Two inches, no, three": a bare number takes the unit of what it corrects."""
    unit_mm = last.unit_mm or 1.0
    low, by = (None if end is None else end * unit_mm for end in (bare.low, bare.by))
    value = float(bare.number) * unit_mm
    return replace(
        bare,
        quantity=last.quantity,
        value=value,
        unit_mm=last.unit_mm,
        unit=last.unit,
        low=low,
        by=by,
    )


def _deny_probe(hand: Hand, item: Item) -> None:
    """ "Nothing soft": soft metal is denied, which is no word of anybody having probed; "no longer
    firm" is not good.
    """
    if item.value == "soft":
        hand.now.absent.append("soft-spot")
    elif item.value == "firm":
        hand.now.denied_good = True


def _is_undone(hand: Hand, word: Marked) -> bool:
    """ "Wasn't tapped", and not "no holes, tapped all over"."""
    before = last_content(hand.look.items, hand.look.at)
    denied = before is not None and before.slot == "negation"
    return word.item.slot == "method" and word.negated and denied


def _counts_another(hand: Hand, item: Item) -> bool:
    """ "… left outrigger three holes …": the number goes with the fault that follows."""
    now = hand.now
    kinds = ("number", "length") if hand.joined else ("number",)
    counts = item.measure is not None and item.measure.quantity in kinds
    told = now.condition is not None and now.placed and (hand.joined or not now.place_first)
    return counts and told and not item.stop and hand.look.follows("condition")


def _next_of_a_row(hand: Hand, item: Item) -> bool:
    """ "… number one is solid, number two …"."""
    numbered = any(number.slot == "ordinal" for number in hand.now.numbers)
    return item.slot == "ordinal" and numbered and hand.now.describes


def _elsewhere(hand: Hand, item: Item) -> bool:
    """Another face, or a probe with a place of its own: the next thing said."""
    now = hand.now
    if item.slot == "face" and "face" in now.others and not hand.repairing:
        return now.describes and now.others["face"].value != item.value
    placed = now.describes and bool(now.sides) and not item.stop
    return item.slot == "probe" and placed and hand.look.own_place_follows()


def is_under_cover(hand: Hand, item: Item) -> bool:
    """ "Muddy, solid underneath": under what covers the metal, which is no side of it; neither is
    "rust underneath it", where no place is named that "it" could be.
    """
    now = hand.now
    kept = now.condition
    if kept is None or item.text not in UNDERNEATH:
        return False
    return kept.value in _COVERS or (item.text in _UNDER_IT and not now.placed)


def _weaker(item: Item, kept: Item) -> bool:
    order = _ORDERS.get(item.slot)
    return order is not None and order.index(item.value) < order.index(kept.value)
