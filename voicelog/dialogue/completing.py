"""A condition said without a place, and the place said a little later."""

from __future__ import annotations

from voicelog.dialogue.entries import NO_PLACE, place_slots
from voicelog.dialogue.place import Place
from voicelog.dialogue.scene import SPOKEN_OF, Moment, Said, Scene
from voicelog.domain.entry import Amend, Kind

COMPLETES_S = 5.0
"""Seconds within which a place completes a condition said without one."""


def say_place(scene: Scene, said: Said) -> None:
    """A place alone: it completes a condition said just before without one."""
    entry_id = scene.unplaced
    if entry_id is not None and scene.age_s(scene[entry_id], said.moment) <= COMPLETES_S:
        complete(scene, said.place)
    scene.unplaced = None


def complete(scene: Scene, place: Place) -> None:
    """The condition that was said without a place becomes a finding there."""
    entry_id, scene.unplaced = scene.unplaced, None
    if entry_id is not None:
        doubts = tuple(doubt for doubt in scene[entry_id].doubts if doubt != NO_PLACE)
        slots = place_slots(place)
        scene.amend(Amend(entry_id, slots, why="place", kind=Kind.FINDING, doubts=doubts))


def unplaced_is_meant(scene: Scene, moment: Moment) -> bool:
    """True while the condition without a place is fresh and nothing was made since."""
    if scene.unplaced is None or not scene.is_fresh(scene[scene.unplaced], moment):
        return False
    newest = scene.newest(Kind.REMARK, *SPOKEN_OF)
    return newest is not None and newest.id == scene.unplaced
