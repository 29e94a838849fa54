"""Drafting: the items of an utterance gathered into one draft for each thing said.

A new draft begins where a second condition, place or control word would not fit the one at hand;
"no, …" replaces instead. Nothing is decided here about what was said in earlier utterances.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from voicelog.domain.reading import Act
from voicelog.domain.slot import METHODS, PROBES
from voicelog.interpret.cover import Item
from voicelog.interpret.draft import Draft
from voicelog.interpret.scope import DESCRIBING, Marked, next_content

_PREPOSITIONS = frozenset(("in", "on", "at", "of", "to", "into", "under", "inside", "onto", "for"))
_ARTICLES = frozenset(("the", "a", "an", "that", "this", "my", "its", "other"))
_POINTING = ("that", "it", "this", "there", "which")
_SIDE_SLOTS = ("side", "kerb", "seat", "viewer", "other-side", "pronoun")
_KEEPS_REPAIRING = ("contrast", "negation", "past", "ordinal", "label", "lead")
_WHOLE_ACTS = (Act.CORRECTION, Act.NOT_SEEN)


class Drafter:
    """Turns marked items into drafts; use :func:`drafts`."""

    def __init__(self, marked: Sequence[Marked]) -> None:
        self._marked = marked
        self._index = 0
        self._now = Draft()
        self._done: list[Draft] = []
        self._repairing = False
        self._joined = self._with = False
        self._relation: Item | None = None
        self._between = False
        self._hedged = False
        self._past = False

    def run(self) -> list[Draft]:
        """All drafts, in order."""
        for index, marked in enumerate(self._marked):
            self._index = index
            self._take(marked)
        self._settle()
        self._flush()
        return [draft for draft in self._done if not draft.empty]

    def _take(self, marked: Marked) -> None:
        item = marked.item
        before = self._now
        if item.slot == "rot" and self._is_share(item):
            item = replace(item, slot="label", value="loss_percent")
        handler = _HANDLERS.get(item.slot, Drafter._on_other)
        handler(self, item, marked)
        self._now.items.append(item)
        if item.slot not in ("filler", "unknown", "ignore", "join", "repair", "relation", "hedge"):
            self._joined = self._joined and item.slot in _SIDE_SLOTS
            if item.slot not in _KEEPS_REPAIRING and item.value != "amend":
                carries_on = item.slot in ("measure", *_SIDE_SLOTS)
                self._repairing = self._repairing and self._now is before and carries_on
        if item.stop and item.slot not in ("relation", "filler"):
            self._relation = None

    def _flush(self) -> None:
        self._done.append(self._now)
        self._now = Draft()

    def _settle(self) -> None:
        """A trailing "maybe" or "used to" belongs to what was just said."""
        self._now.tentative = self._now.tentative or self._hedged
        self._now.past = self._now.past or self._past

    def _on_tag(self, item: Item, marked: Marked) -> None:
        """Earlier work at a place that is named is an old repair there."""
        if item.value == "earlier-work" and self._now.zones:
            self._on_condition(replace(item, slot="condition", value="old-repair"), marked)

    def _on_end(self, item: Item, marked: Marked) -> None:
        """ "The middle's good": a side, where no name follows that it could tell apart."""
        if item.value == "middle" and not (self._follows("family") or self._follows("zone")):
            self._on_side(replace(item, slot="side", value="centre"), marked)
        else:
            self._on_other(item, marked)

    def _on_negation(self, item: Item, marked: Marked) -> None:
        """Only what the word says besides: "neither" means both sides."""
        if (
            "side" in item.also
            and not self._now.sides
            and (self._follows("zone") or self._follows("family") or "of them" in item.text)
        ):
            self._now.sides.append(replace(item, slot="side", value=item.also["side"]))

    def _on_quiet(self, item: Item, marked: Marked) -> None:
        """Fillers and unknown words only lend their text."""

    def _on_join(self, item: Item, marked: Marked) -> None:
        self._joined = self._joined or item.value == "and"
        self._with = item.text.endswith("with")

    def _on_repair(self, item: Item, marked: Marked) -> None:
        if self._now.empty and not self._done:
            self._now.act = Act.CORRECTION
        else:
            self._repairing = True

    def _on_relation(self, item: Item, marked: Marked) -> None:
        self._relation = item
        self._now.landmarks.append((item, None))

    def _on_hedge(self, item: Item, marked: Marked) -> None:
        if self._follows("measure") or (self._after("measure") and item.stop):
            return  # "i think it's about thirty": the number is unsure, not the fault
        if self._now.describes and not item.stop:
            self._hedged = True
        else:
            self._now.tentative = True

    def _on_past(self, item: Item, marked: Marked) -> None:
        self._past = True

    def _on_zone(self, item: Item, marked: Marked) -> None:
        now = self._now
        if marked.negated and self._after("negation"):
            return
        if self._relation is not None:
            now.landmarks[-1:] = [(self._relation, item)]
            self._relation = None
            self._between = now.landmarks[-1][0].text == "between"
            return
        if self._between and self._joined:
            self._between = False
            return
        same = any(zone.value == item.value for zone in now.zones)
        if same and not (now.describes and now.sides) and not self._goes_on():
            return
        if self._repairing and now.zones:
            now.zones[-1:] = [item]
            for slot in ("face", "end"):
                now.others.pop(slot, None)
        elif now.act in _WHOLE_ACTS and not now.zones and not self._goes_on():
            now.zones.append(item)
        elif self._starts_place(bool(now.zones)):
            self._begin_place()
            self._now.zones.append(item)
        elif now.zones and not self._joined:
            self._flush()
            self._now.zones.append(item)
        else:
            now.zones.append(item)
            now.place_first = now.place_first or not now.says

    def _on_side(self, item: Item, marked: Marked) -> None:
        now = self._now
        if marked.negated and self._after("negation"):
            self._repairing = self._repairing or bool(now.sides)  # "left, uh, not left, right"
            return
        if self._relation is not None and now.sides:
            return
        if self._reads_as_left(item):
            now.numbers.append(item)
            return
        if self._repairing and now.sides:
            now.sides[-1:] = [item]
        elif self._starts_place(bool(now.sides)) and (
            now.act not in _WHOLE_ACTS or self._goes_on()
        ):
            self._begin_place()
            self._now.sides.append(item)
        elif now.sides and not self._joined and not now.describes:
            now.sides[:] = [item]
        else:
            now.sides.append(item)
            now.place_first = now.place_first or not now.says

    def _begin_place(self) -> None:
        shares = self._joined and self._now.describes
        self._flush()
        self._now.shares = shares
        self._now.place_first = True

    def _starts_place(self, taken: bool) -> bool:
        """Does a place word begin a new draft rather than belong to the one at hand?"""
        now = self._now
        if self._goes_on():
            return True
        if now.act is Act.REPORT and not now.says and not (taken and self._is_same_again()):
            return False
        if taken:
            return True
        if self._trails():
            return False
        return now.says and now.place_first and not self._after_preposition()

    def _trails(self) -> bool:
        """A first side at the end of what is said: "axle brackets clean, both sides"."""
        item = self._marked[self._index].item
        following = next_content([m.item for m in self._marked], self._index)
        return item.slot in _SIDE_SLOTS and (following is None or item.stop in (".", "?"))

    def _goes_on(self) -> bool:
        """After "can't see the left rail," a place is the next one."""
        now = self._now
        stopped = self._index > 0 and bool(self._marked[self._index - 1].item.stop)
        return now.act is Act.NOT_SEEN and now.placed and stopped

    def _is_same_again(self) -> bool:
        return self._now.act in (Act.SAME, Act.ANOTHER)

    def _after_preposition(self) -> bool:
        if self._marked[self._index].item.text.split()[0] in _PREPOSITIONS:
            return True
        for earlier in reversed(self._marked[: self._index]):
            text = earlier.item.text.split()[-1]
            if text in _PREPOSITIONS and earlier.item.slot not in DESCRIBING:
                return True
            if text not in _ARTICLES and earlier.item.slot not in (*_SIDE_SLOTS, "end"):
                return False
        return False

    def _numbered(self) -> bool:
        """ "Number three left": the number is a mount's."""
        before = [m.item for m in self._marked[: self._index - 1]]
        return bool(before) and before[-1].slot == "ordinal"

    def _follows(self, slot: str) -> bool:
        following = next_content([m.item for m in self._marked], self._index)
        return following is not None and following.slot == slot

    def _after(self, slot: str) -> bool:
        for earlier in reversed(self._marked[: self._index]):
            if earlier.item.slot not in ("filler", "unknown"):
                return earlier.item.slot == slot
        return False

    def _reads_as_left(self, item: Item) -> bool:
        """ "One point nine left" is metal that remains, not a side."""
        if item.text != "left" or not self._now.numbers or self._index == 0:
            return False
        previous = self._marked[self._index - 1].item
        if previous.slot != "measure" or previous.stop or self._numbered():
            return False
        following = next(
            (m.item for m in self._marked[self._index + 1 :] if m.item.slot != "filler"), None
        )
        return (
            item.stop != "" or following is None or following.slot not in ("zone", "family", "end")
        )

    def _on_condition(self, item: Item, marked: Marked) -> None:
        now = self._now
        if marked.negated:
            if self._takes_back(item):
                return
            now.absent.append(item.value)
            now.by_sight = now.by_sight or marked.by_sight
            return
        mended = now.condition is not None and now.condition.value == "old-repair"
        if self._restates(item) or (self._past and mended):
            return
        if now.condition is not None and self._is_landmark():
            return  # "from the lower hole": where, not what
        if now.act is Act.NOT_SEEN or (now.act is Act.PHOTO and self._after_preposition()):
            return
        if now.condition is None:
            if (now.clear or now.approved or now.absent) and self._own_place_follows():
                self._flush()
        elif self._repairing or (now.past and item.value == "old-repair"):
            now.condition = None
        else:
            merged = _merged(now.condition, item, apart=self._joined and not self._with)
            if merged is not None:
                now.condition = merged
                return
            self._flush()
        self._place_condition(item)

    def _takes_back(self, item: Item) -> bool:
        """ "Pitting, sorry, not pitting": the fault at hand is denied, another may follow."""
        denied = self._now.condition
        if denied is None or denied.value != item.value:
            return False
        self._now.condition = None
        self._repairing = True
        return True

    def _is_share(self, item: Item) -> bool:
        """ "Twenty five percent gone" is a loss of thickness, not a hole."""
        for earlier in reversed(self._marked[: self._index]):
            if earlier.item.stop:
                return False
            if earlier.item.measure is not None:
                return earlier.item.measure.quantity == "percent"
            if earlier.item.slot not in ("filler", "label"):
                return False
        return False

    def _restates(self, item: Item) -> bool:
        """A fault named a second time with nothing new ("pitting, light rust in the pits")."""
        now = self._now
        fresh = now.placed or now.others or now.numbers or now.past
        earlier = [draft.condition.value for draft in self._done if draft.condition]
        named = item.value in earlier
        return named and not fresh and not self._repairing and item.slot == "condition"

    def _is_landmark(self) -> bool:
        """A fault right after "from the" or "next to a", and not after "below that"."""
        if self._relation is None:
            return False
        between = [
            m.item for m in self._marked[: self._index] if m.item.start >= self._relation.end
        ]
        return not any(item.slot != "filler" or item.text in _POINTING for item in between)

    def _place_condition(self, item: Item) -> None:
        self._take_count()
        now = self._now
        now.condition = item
        now.tentative = now.tentative or self._hedged
        now.past = now.past or self._past
        self._hedged = self._past = False

    def _take_count(self) -> None:
        """ "Scale, three holes": the number right before a condition goes with it."""
        if not self._done or not self._now.empty or not self._done[-1].numbers:
            return
        number = self._done[-1].numbers[-1]
        between = [m.item for m in self._marked[: self._index] if m.item.start >= number.end]
        counts = number.measure is not None and number.measure.quantity == "number"
        if counts and not number.stop and all(item.slot == "filler" for item in between):
            self._done[-1].numbers.pop()
            self._now.numbers.append(number)
            self._now.items.append(number)

    def _own_place_follows(self) -> bool:
        for later in self._marked[self._index + 1 :]:
            slot = later.item.slot
            if slot in ("zone", "family", "side", "kerb", "seat", "pronoun"):
                return self._now.placed
            if slot in DESCRIBING or slot == "act" or later.item.stop:
                return False
        return False

    def _on_clear(self, item: Item, marked: Marked) -> None:
        if self._now.condition is not None and self._face_follows():
            self._flush()
        if marked.negated:
            self._now.denied_good = True
        elif item.slot == "good":
            self._now.approved = True
        else:
            self._now.clear = True

    def _on_obstacle(self, item: Item, marked: Marked) -> None:
        """What stands before a place leaves it unseen; its words stay in the reason."""
        self._on_act(replace(item, slot="act", value=str(Act.NOT_SEEN)), marked)

    def _face_follows(self) -> bool:
        """ "… scale along the bottom, clean on top": the good word is said of its own face."""
        before = self._marked[self._index - 1].item
        return bool(before.stop) and self._follows("face")

    def _on_act(self, item: Item, marked: Marked) -> None:
        if item.value == "next" or (marked.negated and item.value == "photo"):
            return
        if item.value == "amend" and not self._now.empty:
            self._repairing = True  # "soft, no it's firm", said in one breath
            return
        act = Act.CORRECTION if item.value == "amend" else Act(item.value)
        if act is Act.NOT_SEEN and self._only_dirt():
            self._now.condition = None
            self._now.act = act
            return
        if act is Act.NOT_SEEN and self._now.act is act and not self._now.describes:
            return
        if self._now.describes or self._now.act is not Act.REPORT or act in _STANDS_ALONE:
            self._settle()
            self._flush()
        self._now.act = act
        if act in _STANDS_ALONE:
            self._now.items.append(item)
            self._flush()

    def _only_dirt(self) -> bool:
        condition = self._now.condition
        return condition is not None and condition.value == "debris"

    def _on_number(self, item: Item, marked: Marked) -> None:
        if not marked.negated or item.slot in ("label", "lead", "ordinal"):
            if self._counts_another(item) or self._next_of_a_row(item):
                self._settle()
                self._flush()
            if self._repairing and item.slot == "measure":
                self._now.numbers = [n for n in self._now.numbers if n.slot != "measure"]
            self._now.numbers.append(item)

    def _counts_another(self, item: Item) -> bool:
        """ "… left outrigger three holes …": the number goes with the fault that follows."""
        now = self._now
        kinds = ("number", "length") if self._joined else ("number",)
        counts = item.measure is not None and item.measure.quantity in kinds
        told = now.condition is not None and now.placed and (self._joined or not now.place_first)
        return counts and told and not item.stop and self._follows("condition")

    def _next_of_a_row(self, item: Item) -> bool:
        """ "… number one is solid, number two …"."""
        numbered = any(number.slot == "ordinal" for number in self._now.numbers)
        return item.slot == "ordinal" and numbered and self._now.describes

    def _on_other(self, item: Item, marked: Marked) -> None:
        if marked.negated and item.slot == "probe":
            return
        if self._elsewhere(item):
            self._flush()
            self._now.place_first = True
        kept = self._now.others.get(item.slot)
        if kept is None or self._repairing or not _weaker(item, kept):
            self._now.others[item.slot] = item

    def _elsewhere(self, item: Item) -> bool:
        """Another face, or a probe with a place of its own: the next thing said."""
        now = self._now
        if item.slot == "face" and "face" in now.others and not self._repairing:
            return now.describes and now.others["face"].value != item.value
        placed = now.describes and bool(now.sides) and not item.stop
        return item.slot == "probe" and placed and self._own_place_follows()


_STANDS_ALONE = (
    Act.DISREGARD, Act.SAY_AGAIN, Act.READ_BACK, Act.STAND_BY, Act.GO_AHEAD, Act.AFFIRM,
    Act.NEGATIVE, Act.FINISH,
)  # fmt: skip

_HANDLERS = {
    "filler": Drafter._on_quiet,
    "unknown": Drafter._on_quiet,
    "ignore": Drafter._on_quiet,
    "end": Drafter._on_end,
    "obstacle": Drafter._on_obstacle,
    "negation": Drafter._on_negation,
    "contrast": Drafter._on_quiet,
    "attention": Drafter._on_quiet,
    "tag": Drafter._on_tag,
    "question": Drafter._on_quiet,
    "hypothetical": Drafter._on_quiet,
    "address": Drafter._on_quiet,
    "join": Drafter._on_join,
    "repair": Drafter._on_repair,
    "relation": Drafter._on_relation,
    "hedge": Drafter._on_hedge,
    "past": Drafter._on_past,
    "zone": Drafter._on_zone,
    "family": Drafter._on_zone,
    **dict.fromkeys(_SIDE_SLOTS, Drafter._on_side),
    "condition": Drafter._on_condition,
    "rot": Drafter._on_condition,
    "rust": Drafter._on_condition,
    "clear": Drafter._on_clear,
    "good": Drafter._on_clear,
    "act": Drafter._on_act,
    "measure": Drafter._on_number,
    "label": Drafter._on_number,
    "lead": Drafter._on_number,
    "ordinal": Drafter._on_number,
}


def _weaker(item: Item, kept: Item) -> bool:
    """Of two probes the worse counts, of two methods the stronger; otherwise the later."""
    for slot, order in (("probe", PROBES), ("method", METHODS)):
        if item.slot == slot:
            return order.index(item.value) < order.index(kept.value)
    return False


_SAYS_MORE = {
    ("hole", "worn-hole"), ("debris", "blocked-drain"), ("scale", "delamination"),
    ("recoated", "peeling-coating"), ("recoated", "oil-film"), ("recoated", "blocked-drain"), ("surface-rust", "rust-weep"), ("missing-part", "hole"),
    ("peeling-coating", "delamination"), ("scale", "pack-rust"), ("crack", "pack-rust"),
    ("hole", "missing-part"), ("thinning", "delamination"), ("thinning", "wasted-fixing"),
    ("hole", "wasted-fixing"), ("seized-fixing", "wasted-fixing"),
}  # fmt: skip
"""Pairs of which the second says what the first means, where no "and" stands between."""


def _merged(kept: Item, new: Item, *, apart: bool) -> Item | None:
    """One condition for two words of the same trouble, or None when they are two findings."""
    apart = apart and "blocked-drain" not in (kept.value, new.value)
    if not apart and (kept.value, new.value) in _SAYS_MORE:
        return new
    if not apart and (new.value, kept.value) in _SAYS_MORE:
        return kept
    if kept.value == new.value and kept.slot == new.slot:
        return kept if kept.score >= new.score else new
    if (new.slot == "rust" and not apart) or (new.slot == "rot" and kept.value in _ROT):
        return kept
    if kept.slot == "rust" or (kept.slot == "rot" and new.value in _ROT):
        return new
    return kept if kept.value == new.value else None


_ROT = ("hole", "soft-spot", "thinning", "delamination", "pack-rust")


def drafts(marked: Sequence[Marked]) -> list[Draft]:
    """The things said, in order; shared places and conditions are not filled in yet."""
    return Drafter(marked).run()
