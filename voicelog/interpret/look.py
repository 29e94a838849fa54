"""Looking around: what stands before and after one item of an utterance."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from voicelog.interpret.classes import DESCRIBING, FAULTS, PLACES, QUIET, SIDES
from voicelog.interpret.cover import Item

PREPOSITIONS = frozenset(("in", "on", "at", "of", "to", "into", "under", "inside", "onto", "for"))
"""Words that tie a place to what was said before it."""
_ARTICLES = frozenset(("the", "a", "an", "that", "this", "my", "its", "other"))
_FULL = (".", "?")
"""What ends a sentence."""
_POINTING = ("that", "it", "this", "there", "which")
_AFTER_WHAT = ("when", "after", "where", "behind")
"""Words after a "left" that says what remained."""
_OWN_PLACES = (*PLACES, "side", "kerb", "seat", "pronoun")


def next_content(items: Sequence[Item], at: int) -> Item | None:
    """The next item that says something."""
    return next((item for item in items[at + 1 :] if item.slot not in QUIET), None)


def last_content(items: Sequence[Item], at: int) -> Item | None:
    """The last item before that says something."""
    return next((item for item in reversed(items[:at]) if item.slot not in QUIET), None)


@dataclass(frozen=True, slots=True)
class Look:
    """All items, seen from one of them.

    Args:
        items: in order.
        at: index of the one.
    """

    items: Sequence[Item]
    at: int

    @property
    def item(self) -> Item:
        """The one itself."""
        return self.items[self.at]

    @property
    def after_stop(self) -> bool:
        """Punctuation stands right before it."""
        return self.at > 0 and bool(self.items[self.at - 1].stop)

    @property
    def ends(self) -> bool:
        """Nothing that says anything comes after it."""
        return next_content(self.items, self.at) is None

    def follows(self, *slots: str) -> bool:
        """One of these classes comes next, quiet words aside."""
        following = next_content(self.items, self.at)
        return following is not None and following.slot in slots

    def is_listed(self) -> bool:
        """ "Front rail, mid rail and rear rail": one of several places with an "and" before the last."""
        before = next(
            (item for item in reversed(self.items[: self.at]) if item.slot in PLACES), None
        )
        if before is None or self.item.stop in _FULL:
            return False
        if any(item.stop in _FULL for item in self.since(before.start)):
            return False
        joined = False
        for item in self.items[self.at + 1 :]:
            if item.slot in PLACES and joined:
                return True
            if item.slot not in (*PLACES, *QUIET, "join") or item.stop in _FULL:
                return False
            joined = joined or (item.slot, item.value) == ("join", "and")
        return False

    def comes_after(self, slot: str) -> bool:
        """This class came last, quiet words aside."""
        last = last_content(self.items, self.at)
        return last is not None and last.slot == slot

    def since(self, end: int) -> list[Item]:
        """The items before it that begin at token ``end`` or later."""
        return [item for item in self.items[: self.at] if item.start >= end]

    def after_preposition(self) -> bool:
        """ "… on the left": the place belongs to what was said before it."""
        if self.item.text.split()[0] in PREPOSITIONS:
            return True
        for earlier in reversed(self.items[: self.at]):
            word = earlier.text.split()[-1]
            if word in PREPOSITIONS and earlier.slot not in DESCRIBING:
                return True
            if word not in _ARTICLES and earlier.slot not in (*SIDES, "end"):
                break
        return False

    def sits_on(self, place: Item) -> bool:
        """ "The mount on the left rail": on or at ties it to the place right before, in one breath."""
        between = self.since(place.end)
        first = between[0].text.split()[0] if between else ""
        stopped = place.stop or any(item.stop for item in between)
        return first in ("on", "at") and not stopped and all(map(_is_small, between))

    def trails(self) -> bool:
        """A side at the end of what is said: "axle brackets clean, both sides"."""
        stop = self.item.stop
        closed = stop in _FULL or (bool(stop) and not self.follows(*PLACES, "end"))
        return self.item.slot in SIDES and (closed or self._only_details_follow())

    def _only_details_follow(self) -> bool:
        """ "… hole right, solid metal around it, ten mil": nothing that needs a place of its own."""
        later = self.items[self.at + 1 :]
        return not any(item.slot in (*_OWN_PLACES, *DESCRIBING, "act", "end") for item in later)

    def own_place_follows(self) -> bool:
        """A place comes before the sentence goes on to something else."""
        for later in self.items[self.at + 1 :]:
            if later.slot in _OWN_PLACES:
                return True
            if later.slot in DESCRIBING or later.slot == "act" or later.stop:
                return False
        return False

    def is_metal_left(self) -> bool:
        """ "One point nine left" is metal that remains, not a side; "mount number two left" is."""
        if self.item.text != "left" or not self._measured_before():
            return False
        later = self.items[self.at + 1 :]
        following = next((item for item in later if item.slot != "filler"), None)
        named = following is not None and following.slot in (*PLACES, "end")
        return bool(self.item.stop) or not named

    def _measured_before(self) -> bool:
        if self.at == 0 or self.after_stop or self.items[self.at - 1].slot != "measure":
            return False
        return self.at == 1 or self.items[self.at - 2].slot != "ordinal"

    def is_left_behind(self) -> bool:
        """ "A dent left when I tapped it": what stayed, not a side; "hole, left" is one."""
        before = self.items[self.at - 1] if self.at else None
        fault = before is not None and before.slot in FAULTS and not before.stop
        later = self.items[self.at + 1 :]
        return fault and self.item.text == "left" and bool(later) and later[0].text in _AFTER_WHAT

    def is_share(self) -> bool:
        """ "Twenty five percent gone" is a loss of thickness, not a hole."""
        for earlier in reversed(self.items[: self.at]):
            if earlier.stop:
                return False
            if earlier.measure is not None:
                return earlier.measure.quantity == "percent"
            if earlier.slot not in ("filler", "label"):
                return False
        return False

    def is_landmark_of(self, relation: Item) -> bool:
        """Right after "from the" or "next to a", and not after "below that"."""
        between = self.since(relation.end)
        return not any(item.slot != "filler" or item.text in _POINTING for item in between)


def _is_small(item: Item) -> bool:
    """A side, an end, or "on the" and the like."""
    small = {"on", "at", *_ARTICLES}
    return item.slot in (*SIDES, "end") or small.issuperset(item.text.split())
