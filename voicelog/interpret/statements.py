"""Drafts to statements: slots settled, words that name several places shared out, doubts named."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from voicelog.domain.reading import NOT_GOOD, Act, Statement
from voicelog.domain.slot import ROTS_TO_HOLE, SlotValue
from voicelog.interpret.bind import Bound, bind, implausible
from voicelog.interpret.cover import Item
from voicelog.interpret.doubting import word_doubts
from voicelog.interpret.draft import Draft
from voicelog.interpret.gaps import LIGHT, THING
from voicelog.interpret.landmarks import landmark_slots, near
from voicelog.interpret.placing import Context, Place, places

_KEPT = ("face", "part", "layer", "probe", "method", "surround", "spoken_grade")
"""Details that are slots by themselves."""
_TOUCHING = ("tapped", "scraped", "probed")
"""Methods by which soft metal is felt: with one of them said, metal that is not soft is firm."""
_WHERE = ("zone", "side", "face", "part", "landmark", "ordinal")
_PLACE_WORDS = ("zone", "family", "side", "kerb", "seat", "face", "act", "pronoun", "end")
"""Words of a place or control word, which are no reason."""
_CONTRASTING = ("measure", "negation", "hedge", "contrast", "join")
"""All that "eighty, not a hundred" is made of."""
_TRIMMED = ("filler", "join", "act", "negation", "contrast", "relation")
"""Words that a reason neither begins nor ends with."""


def statements(drafts: Sequence[Draft], context: Context) -> tuple[Statement, ...]:
    """Every draft as one statement, or several where it names several places."""
    made: list[Statement] = []
    for at, draft in enumerate(drafts):
        if draft.shares and not draft.describes and made:
            made.extend(_shared(draft, drafts[at - 1], context))
        else:
            lender = drafts[1] if at == 0 and len(drafts) > 1 else None
            made.extend(_told(draft, lender, context))
    return tuple(made)


def facts(statement: Statement) -> Mapping[str, SlotValue]:
    """The slots that say something about the metal rather than where it is."""
    return {name: value for name, value in statement.slots.items() if name not in _WHERE}


def _shared(draft: Draft, earlier: Draft, context: Context) -> Iterator[Statement]:
    """ "… and right rear rail": the condition before it holds here too."""
    for place in places(draft, context):
        yield Statement(
            Act.SAME, place.slots, _text(draft), clear=earlier.clear and earlier.condition is None,
            doubts=tuple(place.doubts), questions=tuple(place.questions), other_side=place.other_side,
        )  # fmt: skip


def _told(draft: Draft, lender: Draft | None, context: Context) -> list[Statement]:
    _blame_the_hammer(draft)
    borrows = lender is not None and not draft.placed and draft.describes and _lends(lender)
    spots = places(lender if lender is not None and borrows else draft, context)
    base = _base(draft, context)
    doubts = (*word_doubts(draft, context.zone_map), *implausible(base.slots), *_unnamed(draft))
    return [_at(base, place, doubts) for place in spots]


def _unnamed(draft: Draft) -> Iterator[str]:
    """ "Doesn't look solid": something is the matter, and nobody said what."""
    if draft.denied_good and draft.condition is None and "probe" not in draft.others:
        yield NOT_GOOD


def _blame_the_hammer(draft: Draft) -> None:
    """ "With the hammer it makes small dents": what the probe did, no fault of its own."""
    dent, method = draft.condition, draft.others.get("method")
    if dent is None or method is None or method.value != "tapped":
        return
    if dent.value == "deformation" and dent.text.startswith("dent"):
        draft.others.setdefault("probe", replace(dent, slot="probe", value="dents"))
        draft.condition = None


def _lends(draft: Draft) -> bool:
    """A place said after its condition ("rust and pitting on the left rail") holds for both."""
    return draft.placed and draft.describes and not draft.place_first


def _base(draft: Draft, context: Context) -> Statement:
    """The statement, its place aside."""
    condition = _condition(draft)
    bound = bind(draft.items, draft.numbers, condition, context.speech)
    return Statement(
        act=_act(draft),
        slots=_slots(draft, condition, bound, context),
        text=_text(draft),
        clear=(draft.clear or (draft.approved and draft.placed)) and not draft.denied_good,
        absent=tuple(dict.fromkeys(draft.absent)),
        reason=_reason(draft) if draft.act is Act.NOT_SEEN else "",
        near=near(draft, context.zone_map),
        bare_number=bound.bare,
        bare_unit_mm=bound.bare_unit_mm,
        ranges=bound.ranges,
    )


def _act(draft: Draft) -> Act:
    """ "Same again, pitting" reports a fault of its own."""
    if draft.act in (Act.SAME, Act.ANOTHER) and draft.condition is not None:
        return Act.REPORT
    return Act.CORRECTION if _is_contrast(draft) else draft.act


def _is_contrast(draft: Draft) -> bool:
    """ "Eighty, not a hundred", of what was said before: nothing else is told."""
    bare = all(item.slot in _CONTRASTING or item.value == LIGHT for item in draft.items)
    measured = any(number.measure is not None for number in draft.numbers)
    return draft.act is Act.REPORT and draft.contrasted and measured and bare


def _at(base: Statement, place: Place, doubts: Sequence[str]) -> Statement:
    told = {n: v for n, v in base.slots.items() if n != "face" or not place.end_told}
    return replace(
        base,
        slots={**place.slots, **told},
        doubts=tuple(dict.fromkeys((*place.doubts, *doubts))),
        questions=tuple(place.questions),
        other_side=place.other_side,
    )


def _condition(draft: Draft) -> str | None:
    """The condition after what the probe did: soft rot is a soft spot, rot poked through a hole."""
    if draft.act is Act.NOT_SEEN or draft.condition is None:
        return None
    condition = draft.condition.value
    probe = draft.others["probe"].value if "probe" in draft.others else ""
    if draft.condition.slot == "rot" and probe in ("soft", "moves"):
        return "soft-spot"
    return "hole" if probe == "through" and condition in ROTS_TO_HOLE else condition


def _slots(
    draft: Draft, condition: str | None, bound: Bound, context: Context
) -> dict[str, SlotValue]:
    slots: dict[str, SlotValue] = {}
    if condition is not None:
        slots["condition"] = condition
        slots["certainty"] = "tentative" if draft.tentative else "stated"
    slots.update({name: draft.others[name].value for name in _KEPT if name in draft.others})
    for item in _telling(draft):
        for name, value in item.also.items():
            slots.setdefault(name, value)
    if draft.by_sight:
        slots.setdefault("method", "seen")
    if "soft-spot" in draft.absent and slots.get("method") in _TOUCHING:
        slots.setdefault("probe", "firm")  # "poked all over, nothing soft"
    slots.update(bound.slots)
    slots.update(landmark_slots(draft, bound.distances, context.zone_map))
    return slots


def _telling(draft: Draft) -> Iterator[Item]:
    """Items whose further slots count, the most telling first."""
    yield from draft.others.values()
    if draft.condition is not None:
        yield draft.condition
    yield from (item for item in draft.items if item.slot == "act")
    yield from draft.numbers


def _reason(draft: Draft) -> str:
    """Why a place could not be looked at: its words without the place and the control word."""
    kept = [item for item in draft.items if item.slot not in _PLACE_WORDS]
    while kept and _is_trimmed(kept[0]) and kept[0].text not in ("under", "behind"):
        kept = kept[1:]
    while kept and _is_trimmed(kept[-1]) and kept[-1].text != "way":
        kept = kept[:-1]
    return " ".join(item.text for item in kept)


def _is_trimmed(item: Item) -> bool:
    """A reason neither begins nor ends with it; the name of a thing may be all of a reason."""
    return item.slot in _TRIMMED and item.value != THING


def _text(draft: Draft) -> str:
    return " ".join(item.text + item.stop for item in draft.items).strip(" ,")
