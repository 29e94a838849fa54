"""What was said is put right: corrections of any slot, and withdrawals."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from voicelog.dialogue.amendments import corrected
from voicelog.dialogue.completing import complete, unplaced_is_meant
from voicelog.dialogue.entries import remark
from voicelog.dialogue.place import OPPOSITE, Place, family_of, same_spot, settled
from voicelog.dialogue.scene import SPOKEN_OF, Moment, Said, Scene, only_place, without_place
from voicelog.domain.entry import Entry, Kind
from voicelog.domain.reading import Statement
from voicelog.domain.slot import SlotValue
from voicelog.domain.zone import Layout

_AIMED = "correction on"
"""Opens a correction of the entry at a place; without it the place itself may be what was wrong."""


def correct(scene: Scene, statement: Statement, moment: Moment) -> None:
    """Replace slots of the newest entry, or of the newest at the place that is named."""
    zones = _zones_named(statement)
    if zones and not _says_more(statement) and unplaced_is_meant(scene, moment):
        complete(scene, scene.hear(statement, moment).place)
        return
    if zones and _is_about_a_place(statement):
        targets = _entries_there(scene, statement, zones) or _misplaced(scene, statement, moment)
        if not targets:
            _refuse_absent(scene, statement, moment)
            return
    else:
        newest = scene.newest(*SPOKEN_OF)
        targets = [newest] if newest is not None else []
    if not targets:
        scene.refused = "there is nothing to correct"
    for target in targets:
        correct_entry(scene, target, statement, moment, alone=len(targets) == 1)


def contrast(scene: Scene, said: Said) -> bool:
    """ "Scale, not rust" puts right the newest finding here, if it was just called the other.

    Returns:
        False where it is no such contrast and nothing was done.
    """
    newest = scene.newest(Kind.FINDING)
    if newest is None or "condition" not in said.slots or not scene.is_fresh(newest, said.moment):
        return False
    here = same_spot(newest.slots, said.place.slots)
    if not here or newest.slots.get("condition") not in said.statement.absent:
        return False
    correct_entry(scene, newest, said.statement, said.moment)
    return True


def disregard(scene: Scene) -> None:
    """Take back the newest entry; a second one in a row has to be named."""
    target = scene.newest(*SPOKEN_OF)
    if scene.disregarded:
        scene.refused = "one entry was just disregarded; say what else should go by its place"
    elif target is None:
        scene.refused = "there is nothing to disregard"
    else:
        scene.withdraw(target)
        scene.disregarded = True


def unsay(scene: Scene) -> None:
    """What stood last is taken back in favour of what the same breath goes on to say."""
    target = scene.newest(*SPOKEN_OF)
    if target is not None:
        scene.withdraw(target)


def says_nothing(statement: Statement) -> bool:
    """True for the control word alone."""
    placed = statement.slots or statement.questions or statement.other_side
    return not placed and not _says_more(statement)


def _zones_named(statement: Statement) -> tuple[str, ...]:
    zone = statement.slots.get("zone")
    return (str(zone),) if zone is not None else family_of(statement)


def _says_more(statement: Statement) -> bool:
    """More than a place: only then is the place where the entry is, not what was wrong with it."""
    numbered = statement.bare_number is not None
    return bool(without_place(statement.slots)) or statement.clear or numbered


def _is_about_a_place(statement: Statement) -> bool:
    """The place is where the entry is: more is said, or "correction on" that place."""
    return _says_more(statement) or statement.text.startswith(_AIMED)


def _entries_there(scene: Scene, statement: Statement, zones: tuple[str, ...]) -> list[Entry]:
    """The newest entry at the place; one for each side where both are named and kept apart.

    Where nothing but a place is said, its side or its end is what was wrong: any entry of the zone.
    """
    if not _says_more(statement):
        return [e for e in scene.newest_first(*SPOKEN_OF) if e.slots.get("zone") in zones][:1]
    at = list(_at(scene, statement, zones))
    if statement.slots.get("side") != "both" or not at or at[0].slots.get("side") not in OPPOSITE:
        return at[:1]
    other = OPPOSITE[str(at[0].slots["side"])]
    return [at[0], *[entry for entry in at if entry.slots.get("side") == other][:1]]


def _at(scene: Scene, statement: Statement, zones: tuple[str, ...]) -> Iterator[Entry]:
    """Entries in the zones and on the side named; "both" and a single side lie on each other."""
    for entry in scene.newest_first(*SPOKEN_OF):
        zone = entry.slots.get("zone")
        place = {**statement.slots, "zone": str(zone)}
        if "both" in (entry.slots.get("side"), place.get("side")):
            place.pop("side", None)
        if zone in zones and same_spot(entry.slots, place):
            yield entry


def _misplaced(scene: Scene, statement: Statement, moment: Moment) -> list[Entry]:
    """The entry made last, when it lies in the named zone on another side: the side was wrong."""
    newest = scene.newest(*SPOKEN_OF)
    if newest is None or statement.text.startswith(_AIMED) or not scene.is_fresh(newest, moment):
        return []
    return [newest] if newest.slots.get("zone") in _zones_named(statement) else []


def _refuse_absent(scene: Scene, statement: Statement, moment: Moment) -> None:
    """Nothing there to correct: the words are kept, in doubt, and the next step is named."""
    scene.refused = (
        "there is no entry at that place to correct; say it as a new finding, or name the place "
        "alone to move the last one"
    )
    remark(scene, statement, moment, "a correction of an entry that is not there")


def correct_entry(
    scene: Scene, target: Entry, statement: Statement, moment: Moment, *, alone: bool = True
) -> None:
    """Put one entry right by what a statement says, its place included.

    Args:
        scene: what was said before.
        target: the entry.
        statement: the correction.
        moment: when it was said.
        alone: the statement means no other entry beside this one; else each keeps its side.
    """
    place = _changed_place(target, statement)
    if not alone:
        place.pop("side", None)
    if target.slots.get("zone") in family_of(statement):
        statement = settled(statement)
    words = replace(statement, slots=without_place(statement.slots))
    change = corrected(target, words, place)
    if change is None:
        scene.refused = "the correction says nothing that could change"
        return
    if _single(scene, place) and "side" in target.slots and "side" not in place:
        change = replace(change, drop=(*change.drop, "side"))
    scene.amend(change)
    if _says_more(statement) and _halves(target, statement):
        _keep_other_half(scene, target, moment)
    scene.place = Place(only_place(scene[target.id].slots), said_at_s=moment.at_s)


def _single(scene: Scene, place: Mapping[str, SlotValue]) -> bool:
    """The corrected place is one of which the vehicle has no left and right."""
    zone = place.get("zone")
    return zone in scene.zone_map and scene.zone_map[str(zone)].layout is not Layout.PAIR


def _changed_place(entry: Entry, statement: Statement) -> dict[str, SlotValue]:
    """What differs from the entry's place; a zone that was only assumed counts when said again."""
    named = dict(only_place(statement.slots))
    if statement.other_side and entry.slots.get("side") in OPPOSITE:
        named["side"] = OPPOSITE[str(entry.slots["side"])]
    return {
        name: value
        for name, value in named.items()
        if entry.slots.get(name) != value or (name == "zone" and entry.place_assumed)
    }


def _halves(entry: Entry, statement: Statement) -> bool:
    """An entry of both sides, put right at a zone and one side of it."""
    one_side = statement.slots.get("side") in OPPOSITE and bool(_zones_named(statement))
    return entry.slots.get("side") == "both" and one_side


def _keep_other_half(scene: Scene, before: Entry, moment: Moment) -> None:
    """What was said of both sides still holds on the other one, as an entry of its own."""
    other = OPPOSITE[str(scene[before.id].slots["side"])]
    half = replace(
        before,
        id=scene.next_id(moment),
        utterance=moment.utterance,
        at=moment.at,
        slots={**before.slots, "side": other},
    )
    scene.add(half, moment)
