"""New entries: findings, clear places, claims, copies of what was said before, remarks."""

from __future__ import annotations

from dataclasses import replace

from voicelog.dialogue.amendments import condition_of_probe
from voicelog.dialogue.place import Place, same_spot
from voicelog.dialogue.scene import Moment, Said, Scene
from voicelog.domain.entry import Entry, Kind
from voicelog.domain.reading import Act, Statement
from voicelog.domain.slot import Ranges, Slots
from voicelog.domain.zone import Role

NO_PLACE = "no place was named"
"""The doubt of a condition said where no place is known."""

_COPIED = ("condition", "layer", "face", "part", "certainty")
_HERE = ("zone", "ordinal", "side", "face")
_OF_CLEAR = ("probe", "method", "layer", "surround")


def find(scene: Scene, said: Said, slots: Slots) -> None:
    """Something is the matter here; a remark in doubt where no place is known.

    Args:
        scene: what was said before.
        said: the statement.
        slots: what it says of the metal.
    """
    slots = _of_a_line(scene, said.place, slots)
    asked = any(question.slot == "zone" for question in said.place.questions)
    unplaced = said.place.zone is None and not asked
    entry = _entry(scene, Kind.REMARK if unplaced else Kind.FINDING, said, slots)
    if unplaced:
        entry = replace(entry, unplaced=True, doubts=(*entry.doubts, NO_PLACE))
        scene.unplaced = entry.id
    scene.add(entry, said.moment)


def clear(scene: Scene, said: Said, slots: Slots) -> None:
    """Nothing is the matter here, unless the probe tells otherwise."""
    if not _has_place(said.place):
        remark(scene, said.statement, said.moment)
        return
    kept = {name: value for name, value in slots.items() if name in _OF_CLEAR}
    told = condition_of_probe(kept.get("probe"))
    if told is not None:
        find(scene, said, {**kept, "condition": told, "certainty": "stated"})
        return
    if "method" not in kept and "probe" not in kept:
        kept["method"] = "seen"
    entry = _entry(scene, Kind.CLEAR, said, kept)
    scene.add(replace(entry, absent=said.statement.absent), said.moment)


def claim(scene: Scene, said: Said) -> None:
    """A photo claimed, or a place that could not be looked at."""
    if not _has_place(said.place):
        remark(scene, said.statement, said.moment)
        return
    kind = Kind.PHOTO if said.statement.act is Act.PHOTO else Kind.NOT_SEEN
    entry = _entry(scene, kind, said, {})
    scene.add(replace(entry, reason=said.statement.reason), said.moment)


def copy(scene: Scene, said: Said, model: Entry | None) -> None:
    """ "Same again" copies condition, layer, face and part; "another one" the place as well.

    Args:
        scene: what was said before.
        said: the statement.
        model: the finding or clear entry to copy.
    """
    if model is None or not _has_place(said.place):
        remark(scene, said.statement, said.moment)
        return
    same = said.statement.act is Act.SAME
    here = {n: v for n, v in _place_of(said).items() if n != "landmark"}
    if not same:
        here = {**{n: model.slots[n] for n in ("zone", "side") if n in model.slots}, **here}
    copied = {n: model.slots[n] for n in _COPIED if n in model.slots}
    own = said.slots
    if model.kind is Kind.CLEAR:
        copied, own = {"method": "seen"}, {}
    entry = _entry(scene, model.kind, said, own)
    entry = replace(entry, slots={**copied, **here, **own})
    if same and same_spot(model.slots, here):
        entry = replace(entry, doubts=(*entry.doubts, "the same as at the same place"))
    scene.add(entry, said.moment)


def remark(scene: Scene, statement: Statement, moment: Moment, *doubts: str) -> None:
    """Words that say nothing of the metal, kept as they are.

    Where the ear found no word in a noise, the sound alone is kept.
    """
    if not statement.text.strip():
        return
    text = f"{statement.text} ({statement.reason})" if statement.reason else statement.text
    entry = Entry(
        scene.next_id(moment), moment.utterance, moment.at, Kind.REMARK,
        text=text, tags=statement.tags, doubts=doubts,
    )  # fmt: skip
    scene.add(entry, moment)


def place_slots(place: Place) -> Slots:
    """Where an entry lies; landmarks and parts belong to a statement, not to the place."""
    return {name: place.slots[name] for name in _HERE if name in place.slots}


def ranges_of(statement: Statement, slots: Slots) -> Ranges:
    """Both ends of those slots that the statement gave as a range."""
    return {name: ends for name, ends in statement.ranges.items() if name in slots}


def _entry(scene: Scene, kind: Kind, said: Said, slots: Slots) -> Entry:
    return Entry(
        id=scene.next_id(said.moment),
        utterance=said.moment.utterance,
        at=said.moment.at,
        kind=kind,
        slots={**_place_of(said), **slots},
        text=said.statement.text,
        doubts=said.place.doubts,
        questions=said.place.questions,
        place_assumed=said.place.assumed,
        ranges=ranges_of(said.statement, slots),
    )


def _place_of(said: Said) -> Slots:
    """The place, with the landmark and part of this statement only."""
    own = {n: said.statement.slots[n] for n in ("landmark", "part") if n in said.statement.slots}
    return {**place_slots(said.place), **own}


def _has_place(place: Place) -> bool:
    return place.zone is not None or bool(place.questions)


def _of_a_line(scene: Scene, place: Place, slots: Slots) -> Slots:
    """What weeps at a fluid line or a tank is the fluid, not rust."""
    zone = scene.zone(place)
    holds_fluid = zone is not None and (zone.role is Role.FLUID_LINE or zone.id == "fuel-tank")
    weeps = slots.get("condition") == "rust-weep"
    return {**slots, "condition": "leak"} if holds_fluid and weeps else slots
