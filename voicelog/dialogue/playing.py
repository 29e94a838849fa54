"""What the statements of one utterance do to the scene, one after the other."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import zip_longest

from voicelog.dialogue.amendments import BAD_PROBES
from voicelog.dialogue.completing import say_place
from voicelog.dialogue.corrections import (
    contrast,
    correct,
    disregard,
    says_nothing,
    unsay,
)
from voicelog.dialogue.entries import claim, clear, copy, find, remark
from voicelog.dialogue.late import restates, say_late, says_of_last
from voicelog.dialogue.scene import Moment, Said, Scene
from voicelog.dialogue.settling import affirmed
from voicelog.dialogue.spelt import SPELT, say_spelt
from voicelog.dialogue.vehicle import meant_here, say_vehicle
from voicelog.domain.entry import Kind
from voicelog.domain.reading import NOT_GOOD, Act, Statement
from voicelog.domain.vehicle import VEHICLE

_BY_TAG = {SPELT: say_spelt, VEHICLE: say_vehicle}
"""Who takes what is said of the vehicle itself."""


def play(scene: Scene, statements: Sequence[Statement], moment: Moment) -> None:
    """All that one utterance does where nothing is asked aloud.

    *Affirm* still keeps a spelled number that was put in doubt, until something else is made.
    """
    scene.begin()
    run(scene, statements, moment)


def run(scene: Scene, statements: Sequence[Statement], moment: Moment) -> None:
    """As :func:`play`, on top of what the same utterance has done already."""
    asked, scene.asked = scene.asked, None
    statements = [meant for said in statements for meant in meant_here(scene, said)]
    for statement, following in zip_longest(statements, statements[1:]):
        if statement.act is Act.AFFIRM and asked is not None:
            scene.amend(affirmed(scene[asked]))
        elif _gives_way(statement, following):
            unsay(scene)
        else:
            _do(scene, statement, moment)
    if not scene.changes:
        scene.asked = asked
    scene.disregarded = bool(statements) and statements[-1].act is Act.DISREGARD


def _gives_way(statement: Statement, following: Statement | None) -> bool:
    """ "Correction, can't see it": nothing to change, the place could not be looked at at all."""
    unseen = following is not None and following.act is Act.NOT_SEEN
    return statement.act is Act.CORRECTION and unseen and says_nothing(statement)


def _do(scene: Scene, statement: Statement, moment: Moment) -> None:
    say = next((say for tag, say in _BY_TAG.items() if tag in statement.tags), None)
    if say is not None:
        say(scene, statement, moment)
        return
    match statement.act:
        case Act.STAND_BY:
            scene.standing_by = True
        case Act.DISREGARD:
            disregard(scene)
        case Act.CORRECTION:
            correct(scene, statement, moment)
        case Act.REMARK:
            remark(scene, statement, moment, *statement.doubts)
        case Act.SAME | Act.ANOTHER:
            model = scene.newest(Kind.FINDING, Kind.CLEAR)
            copy(scene, scene.hear(statement, moment), model)
        case Act.PHOTO | Act.NOT_SEEN:
            claim(scene, scene.hear(statement, moment))
        case Act.REPORT:
            _report(scene, scene.hear(statement, moment))
        case (
            Act.SAY_AGAIN | Act.READ_BACK | Act.WHAT_IS_OPEN | Act.AFFIRM | Act.NEGATIVE
            | Act.GO_AHEAD | Act.FINISH
        ):  # fmt: skip
            pass  # they change no entry


def _report(scene: Scene, said: Said) -> None:
    statement = said.statement
    if contrast(scene, said):
        return
    if "condition" in said.slots and not _only_dirt_over_good(statement):
        if not restates(scene, said):
            find(scene, said, said.slots)
    elif statement.clear or (_denies_all(statement) and not says_of_last(scene, said)):
        clear(scene, said, said.slots)
    elif statement.absent and "probe" not in said.slots:
        remark(scene, statement, said.moment)
    elif said.slots or statement.bare_number is not None:
        say_late(scene, said)
    elif statement.doubts and statement.questions:
        remark(scene, statement, said.moment)
    elif NOT_GOOD in statement.doubts:
        remark(scene, statement, said.moment, *statement.doubts)
    elif scene.unplaced is not None and said.place.zone is not None:
        say_place(scene, said)


def _only_dirt_over_good(statement: Statement) -> bool:
    good = statement.clear or statement.slots.get("probe") == "firm"
    return statement.slots.get("condition") == "debris" and good


def _denies_all(statement: Statement) -> bool:
    """ "No holes, no scale" or "no rust" or "no cracks, firm" clear a place; "no holes" does not."""
    if not statement.absent or statement.slots.get("probe") in BAD_PROBES:
        return False
    whole = "surface-rust" in statement.absent or statement.slots.get("method") == "seen"
    return whole or len(statement.absent) > 1 or statement.slots.get("probe") == "firm"
