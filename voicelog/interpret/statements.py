"""Drafts to statements: slots settled, words that name several places shared out, doubts named."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from voicelog.domain.reading import Act, Statement
from voicelog.domain.slot import ROTS_TO_HOLE, SlotValue
from voicelog.domain.zone import Role
from voicelog.interpret.bind import Bound, bind, implausible
from voicelog.interpret.cover import Item
from voicelog.interpret.doubting import word_doubts
from voicelog.interpret.draft import Draft
from voicelog.interpret.placing import Context, Place, places

_KEPT = ("face", "part", "layer", "probe", "method", "surround", "spoken_grade")


def statements(drafts: Sequence[Draft], context: Context) -> tuple[Statement, ...]:
    """Every draft as one statement, or several where it names several places."""
    made: list[Statement] = []
    for index, draft in enumerate(drafts):
        if draft.shares and not draft.describes and made:
            made.append(_shared(draft, drafts[index - 1], context))
            continue
        lender = drafts[index + 1] if index + 1 < len(drafts) else None
        made.extend(_from(draft, lender if index == 0 else None, context))
    return tuple(made)


def _shared(draft: Draft, earlier: Draft, context: Context) -> Statement:
    """ "… and right rear rail": the condition before it holds here too."""
    place = places(draft, context)[0]
    return Statement(
        Act.SAME, place.slots, _text(draft), clear=earlier.clear and earlier.condition is None,
        doubts=tuple(place.doubts), questions=tuple(place.questions), other_side=place.other_side,
    )  # fmt: skip


def _from(draft: Draft, lender: Draft | None, context: Context) -> list[Statement]:
    _dented_by_hammer(draft)
    condition = _condition(draft)
    bound = bind(draft.items, draft.numbers, condition, context.speech)
    base = Statement(
        act=_act(draft),
        slots=_slots(draft, condition, bound, context),
        text=_text(draft),
        clear=(draft.clear or (draft.approved and draft.placed)) and not draft.denied_good,
        absent=tuple(dict.fromkeys(draft.absent)),
        reason=_reason(draft) if draft.act is Act.NOT_SEEN else "",
        near=_near(draft, context),
        bare_number=bound.bare,
        bare_unit_mm=bound.bare_unit_mm,
        ranges=bound.ranges,
    )
    spots = places(draft, context)
    if not draft.placed and lender is not None and _lends(lender) and draft.describes:
        spots = places(lender, context)
    return [_at(base, place, draft) for place in spots]


def _lends(draft: Draft) -> bool:
    """A place said after its condition ("rust and pitting on the left rail") holds for both."""
    return draft.placed and draft.describes and not draft.place_first


def _act(draft: Draft) -> Act:
    if draft.act in (Act.SAME, Act.ANOTHER) and draft.condition is not None:
        return Act.REPORT
    return draft.act


def _at(base: Statement, place: Place, draft: Draft) -> Statement:
    doubts = [*place.doubts, *word_doubts(draft), *implausible(base.slots)]
    return replace(
        base,
        slots={
            **place.slots,
            **{n: v for n, v in base.slots.items() if n != "face" or not place.end_told},
        },
        doubts=tuple(dict.fromkeys(doubts)),
        questions=tuple(place.questions),
        other_side=place.other_side,
    )


def _dented_by_hammer(draft: Draft) -> None:
    """ "With the hammer it makes small dents": what the probe did, no fault of its own."""
    dent, method = draft.condition, draft.others.get("method")
    tapped = method is not None and method.value == "tapped"
    if dent is not None and dent.value == "deformation" and dent.text.startswith("dent") and tapped:
        draft.others.setdefault("probe", replace(dent, slot="probe", value="dents"))
        draft.condition = None


def _condition(draft: Draft) -> str | None:
    """The condition after what the probe did and what the past says."""
    if draft.act is Act.NOT_SEEN or draft.condition is None:
        return None
    condition = draft.condition.value
    probe = draft.others.get("probe")
    if draft.condition.slot == "rot" and probe is not None and probe.value in ("soft", "moves"):
        return "soft-spot"
    if probe is not None and probe.value == "through" and condition in ROTS_TO_HOLE:
        return "hole"
    return condition


def _slots(
    draft: Draft, condition: str | None, bound: Bound, context: Context
) -> dict[str, SlotValue]:
    slots: dict[str, SlotValue] = {}
    if condition is not None:
        slots["condition"] = condition
        slots["certainty"] = "tentative" if draft.tentative else "stated"
    for name in _KEPT:
        if name in draft.others:
            slots[name] = draft.others[name].value
    acts = [item for item in draft.items if item.slot == "act"]
    for item in (
        *draft.others.values(),
        *([draft.condition] if draft.condition else []),
        *acts,
        *draft.numbers,
    ):
        for name, value in item.also.items():
            slots.setdefault(name, value)
    if draft.by_sight:
        slots.setdefault("method", "seen")
    slots.update(bound.slots)
    slots.update(_landmark(draft, bound, context))
    return slots


def _landmark(draft: Draft, bound: Bound, context: Context) -> dict[str, SlotValue]:
    """The landmark as free text, and the distance to it where it is a mounting."""
    slots: dict[str, SlotValue] = {}
    for relation, zone in draft.landmarks:
        text = _landmark_text(draft, relation, zone)
        measure = bound.distances.get(relation.start)
        if measure is not None:
            about = "about " if measure.approximate else ""
            text = f"{about}{_said(measure.number)} {measure.unit} {text}".replace("  ", " ")
            if zone is None or _is_mounting(zone, context):
                slots["mount_distance_mm"] = round(measure.value, 4)
        if zone is not None or _has_own_words(draft, relation):
            slots["landmark"] = text.strip()
    if "mount_distance_mm" in slots and not any(zone for _, zone in draft.landmarks):
        del slots["mount_distance_mm"]
    return slots


def _has_own_words(draft: Draft, relation: Item) -> bool:
    """ "Along the seam" says where; "along the" says nothing."""
    after = [item for item in draft.items if item.start >= relation.end]
    return (
        bool(after)
        and not relation.stop
        and any(item.slot in ("unknown", "part") for item in after[:3])
    )


def _said(number: object) -> str:
    return f"{float(str(number)) if '/' not in str(number) else _ratio(str(number)):g}"


def _ratio(text: str) -> float:
    over, under = text.split("/")
    return int(over) / int(under)


def _landmark_text(draft: Draft, relation: Item, zone: Item | None) -> str:
    end = zone.end if zone is not None else None
    words: list[str] = []
    for item in draft.items:
        if item.start < relation.start:
            continue
        if zone is None and item is not relation and item.slot not in ("filler", "unknown", "part"):
            break
        words.append(item.text)
        if item.end == end or (zone is None and item.stop):
            break
    return " ".join(words)


def _is_mounting(item: Item, context: Context) -> bool:
    zones = item.value.split("+")
    return any(context.zone_map[zone].role is Role.CRITICAL for zone in zones)


def _near(draft: Draft, context: Context) -> str:
    for _, zone in draft.landmarks:
        if zone is not None and zone.slot == "zone" and zone.value in context.zone_map:
            return zone.value
    return ""


_TRIMMED = ("filler", "join", "act", "negation", "contrast", "relation")


def _reason(draft: Draft) -> str:
    """Why a place could not be looked at: its words without the place and the control word."""
    place = ("zone", "family", "side", "kerb", "seat", "face", "act", "pronoun", "end")
    kept = [item for item in draft.items if item.slot not in place]
    while kept and kept[0].slot in _TRIMMED and kept[0].text not in ("under", "behind"):
        kept = kept[1:]
    while kept and kept[-1].slot in _TRIMMED and kept[-1].text != "way":
        kept = kept[:-1]
    return " ".join(item.text for item in kept)


def _text(draft: Draft) -> str:
    return " ".join(item.text + (item.stop or "") for item in draft.items).strip(" ,")


def facts(statement: Statement) -> Mapping[str, SlotValue]:
    """The slots that say something about the metal rather than where it is."""
    places = ("zone", "side", "face", "part", "landmark", "ordinal")
    return {name: value for name, value in statement.slots.items() if name not in places}
