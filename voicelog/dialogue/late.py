"""A measure, probe, method or grade said alone: to the last finding here, while that is fresh."""

from __future__ import annotations

from itertools import takewhile

from voicelog.dialogue.amendments import condition_of_probe, late
from voicelog.dialogue.entries import clear, find, ranges_of, remark
from voicelog.dialogue.place import same_spot
from voicelog.dialogue.scene import Said, Scene, only_place
from voicelog.domain.entry import Entry, Kind
from voicelog.domain.slot import MEASURE_SLOTS, ROTS_TO_HOLE, Slots


def say_late(scene: Scene, said: Said) -> None:
    """Amend the finding that is meant; failing one, make what the words themselves tell."""
    slots = said.slots or _size(scene, said)
    target = _meant(scene, said)
    if target is not None:
        slots = _of_thickness(target, slots)
        scene.amend(late(target, slots, ranges_of(said.statement, slots)))
        return
    told = condition_of_probe(slots.get("probe"))
    if told != "hole" and ("thickness_mm" in slots or "loss_percent" in slots):
        told = "thinning"
    asked = _lacks_its_end(said)
    if (said.place.zone is not None or asked) and told is not None:
        find(scene, said, {**slots, "condition": told, "certainty": "stated"})
    elif slots.get("probe") == "firm" and ("zone" in said.statement.slots or asked):
        clear(scene, said, slots)
    else:
        remark(scene, said.statement, said.moment)


def _lacks_its_end(said: Said) -> bool:
    """ "Left spring hanger": which one has to be asked. Without a side it is too little: talk of
    rails and hangers is common.
    """
    named = any(question.slot == "zone" for question in said.place.questions)
    return named and "side" in said.statement.slots


def restates(scene: Scene, said: Said) -> bool:
    """ "Pitting." … "Pits are twenty thou deep.": the fault just found, told more closely.

    Returns:
        False where a place is named, or the fault has such a measure already; nothing was done.
    """
    more = {name: value for name, value in said.slots.items() if name in (*MEASURE_SLOTS, "probe")}
    target = _meant(scene, said)
    if target is None or not more or only_place(said.statement.slots):
        return False
    same = target.slots.get("condition") == said.slots.get("condition")
    if not same or target.utterance == said.moment.utterance or more.keys() & target.slots.keys():
        return False
    scene.amend(late(target, more, ranges_of(said.statement, more)))
    return True


def _of_thickness(target: Entry, slots: Slots) -> Slots:
    """A length said of thin metal is what is left of it."""
    thin = target.slots.get("condition") == "thinning" and "thickness_mm" not in target.slots
    if not thin or "size_mm" not in slots or "thickness_mm" in slots:
        return slots
    return {"thickness_mm" if name == "size_mm" else name: value for name, value in slots.items()}


def says_of_last(scene: Scene, said: Said) -> bool:
    """ "No leak there, and the metal is firm": a probe of the finding just made, no new place."""
    unplaced = "zone" not in said.statement.slots
    return unplaced and "probe" in said.slots and _meant(scene, said) is not None


def _size(scene: Scene, said: Said) -> Slots:
    """A bare number is a size, in its own unit or the speaker's."""
    number = float(said.statement.bare_number or 0.0)
    return {"size_mm": number * (said.statement.bare_unit_mm or scene.speech.unit_mm)}


def _meant(scene: Scene, said: Said) -> Entry | None:
    """The newest fresh entry here; of several, a probe means the newest that it can go through."""
    newest_first = scene.newest_first(Kind.FINDING, Kind.CLEAR)
    fresh = takewhile(lambda entry: scene.is_fresh(entry, said.moment), newest_first)
    here = [entry for entry in fresh if same_spot(entry.slots, said.place.slots)]
    yielding = [entry for entry in here if _can_go_through(entry)]
    return next(iter((yielding if "probe" in said.slots else []) + here), None)


def _can_go_through(entry: Entry) -> bool:
    return entry.kind is Kind.CLEAR or entry.slots.get("condition") in ROTS_TO_HOLE
