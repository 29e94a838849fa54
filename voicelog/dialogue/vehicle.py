"""What was said of the vehicle as a whole: remarks with a reading or a name, put right by voice."""

from __future__ import annotations

from voicelog.dialogue.scene import Moment, Scene
from voicelog.domain.entry import Amend, Entry, Kind, Question
from voicelog.domain.reading import Act, Statement
from voicelog.domain.slot import Slots, SlotValue
from voicelog.domain.vehicle import FARTHEST, KM_OF, VEHICLE, odometer_of, told_odometer

_SLOTS = ("odometer", "inspector")


def meant_here(scene: Scene, statement: Statement) -> tuple[Statement, ...]:
    """The statement; what its words mean at a place instead, where the inspector is at one.

    "It's caked in mud" is the vehicle before the first place was named; after it, it is that place,
    and a fault whose place is waited for gets it from these words.
    """
    at_one = scene.place.zone is not None or bool(scene.place.questions)
    here = statement.at_place and (at_one or scene.unplaced is not None)
    return statement.at_place if here else (statement,)


def say_vehicle(scene: Scene, statement: Statement, moment: Moment) -> None:
    """A new remark, or the newest of its kind put right or told more closely; a question where a
    reading has no unit.
    """
    target = _meant(scene, statement)
    about = dict(statement.slots)
    slots = dict(about)
    if slots.get("odometer") in KM_OF and target is None:
        del slots["odometer"]  # "miles" where no reading waits for its unit
    if target is not None:
        slots = _joined(target.slots, slots)
    doubts, questions = _checked(slots)
    doubts = (*statement.doubts, *doubts)
    if target is not None:
        change = Amend(target.id, slots, "correction", doubts=doubts, questions=questions)
        scene.amend(change)
        return
    scene.add(
        Entry(
            scene.next_id(moment), moment.utterance, moment.at, Kind.REMARK, slots, statement.text,
            doubts, questions=questions, tags=statement.tags if slots or not about else (),
        ),
        moment,
    )  # fmt: skip


def _meant(scene: Scene, statement: Statement) -> Entry | None:
    """The newest remark that a correction, or a unit said alone, is about; None for a new one."""
    about = [slot for slot in _SLOTS if slot in statement.slots]
    said = [e for e in scene.newest_first(Kind.REMARK) if VEHICLE in e.tags]
    if statement.slots.get("odometer") in KM_OF:
        readings = [entry for entry in said if "odometer" in entry.slots]
        waits = readings and _unit(readings[0].slots) == ""
        corrects = statement.act is Act.CORRECTION
        return readings[0] if readings and (waits or corrects) else None
    if statement.act is not Act.CORRECTION or len(about) != 1 or len(statement.tags) > 2:
        return None
    return next((entry for entry in said if about[0] in entry.slots), None)


def _joined(known: Slots, said: Slots) -> dict[str, SlotValue]:
    """What is said, the reading with the number or the unit that it leaves out."""
    slots = dict(said)
    told, before = str(said.get("odometer", "")), odometer_of(str(known.get("odometer", "")))
    if told and before is not None:
        now = odometer_of(told)
        value, unit = (before[0], told) if told in KM_OF else now or (0.0, "")
        if now is not None or told in KM_OF:
            slots["odometer"] = told_odometer(value, unit or before[1])
    return slots


def _unit(slots: Slots) -> str | None:
    """The unit of a reading, empty where it has none; None where there is no reading."""
    reading = odometer_of(str(slots.get("odometer", "")))
    return None if reading is None else reading[1]


def _checked(slots: Slots) -> tuple[tuple[str, ...], tuple[Question, ...]]:
    """Doubts and questions about a reading: its unit, and whether an odometer can show it."""
    told = str(slots.get("odometer", ""))
    if not told:
        return (), ()
    reading = odometer_of(told)
    if reading is None:
        return (f"{told} is more than an odometer shows ({FARTHEST:,})",), ()
    if reading[1]:
        return (), ()
    options = tuple(told_odometer(reading[0], unit) for unit in ("mi", "km"))
    return ("miles or kilometres was not said",), (Question("odometer", options),)
