"""The dialogue: readings in, changes to the inspection out, with what was said before in mind."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
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
from voicelog.dialogue.rivals import with_runners_up
from voicelog.dialogue.scene import Moment, Said, Scene
from voicelog.dialogue.spelt import SPELT, affirm, say_spelt
from voicelog.domain.entry import Change, Kind
from voicelog.domain.reading import Act, Reading, Speech, Statement
from voicelog.domain.zone import Rails, ZoneMap


@dataclass(frozen=True, slots=True)
class Turn:
    """What one utterance did.

    Args:
        changes: to the inspection, in order.
        act: the act of its last statement.
        refused: why nothing was done, in a plain sentence; empty otherwise.
        standing_by: the tool listens for the resume phrase only.
        finished: the end of the inspection was asked for.
        keep: False in stand-by, where neither sound nor text may be kept.
        runner_up: what the next best reading would have changed instead.
    """

    changes: tuple[Change, ...]
    act: Act
    refused: str = ""
    standing_by: bool = False
    finished: bool = False
    keep: bool = True
    runner_up: tuple[Change, ...] = ()


class Dialogue:
    """Remembers the current place and the entries made so far; does no input or output.

    Args:
        zone_map: the places of the vehicle.
        rails: how its rails are made.
        speech: how long places carry.
    """

    def __init__(
        self, zone_map: ZoneMap, *, rails: Rails = Rails.MIXED, speech: Speech = Speech()
    ) -> None:
        self._scene = Scene(zone_map, rails, speech)

    def take(self, reading: Reading, *, utterance: str, at: str, at_s: float) -> Turn:
        """What the reading does now.

        Args:
            reading: of one utterance.
            utterance: its id, ``u<seq>``.
            at: wall-clock time, RFC 3339.
            at_s: seconds of the inspection.
        """
        acts = [statement.act for statement in reading.statements]
        if self._scene.standing_by and not (reading.attention and Act.GO_AHEAD in acts):
            return Turn((), Act.REMARK, standing_by=True, keep=False)
        moment = Moment(utterance, at, at_s)
        rival = self._scene.copy() if reading.runner_up else None
        _play(self._scene, reading.statements, moment)
        scene, changes = self._scene, tuple(self._scene.changes)
        others: tuple[Change, ...] = ()
        if rival is not None:
            _play(rival, reading.runner_up, moment)
            others = tuple(rival.changes) if rival.changes != scene.changes else ()
            changes = with_runners_up(changes, rival.touched())
        return Turn(
            changes, acts[-1], scene.refused, scene.standing_by, Act.FINISH in acts,
            runner_up=others,
        )  # fmt: skip


def _play(scene: Scene, statements: Sequence[Statement], moment: Moment) -> None:
    """All that one utterance does to the scene; a question stays open until something is made."""
    asked, scene.asked = scene.asked, None
    scene.changes, scene.refused, scene.standing_by = [], "", False
    for statement, following in zip_longest(statements, statements[1:]):
        if statement.act is Act.AFFIRM and asked is not None:
            affirm(scene, scene[asked])
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
    if SPELT in statement.tags:
        say_spelt(scene, statement, moment)
        return
    match statement.act:
        case Act.STAND_BY:
            scene.standing_by = True
        case Act.DISREGARD:
            disregard(scene)
        case Act.CORRECTION:
            correct(scene, statement, moment)
        case Act.REMARK:
            remark(scene, statement, moment)
        case Act.SAME | Act.ANOTHER:
            model = scene.newest(Kind.FINDING, Kind.CLEAR)
            copy(scene, scene.hear(statement, moment), model)
        case Act.PHOTO | Act.NOT_SEEN:
            claim(scene, scene.hear(statement, moment))
        case Act.REPORT:
            _report(scene, scene.hear(statement, moment))
        case Act.SAY_AGAIN | Act.READ_BACK | Act.AFFIRM | Act.NEGATIVE | Act.GO_AHEAD | Act.FINISH:
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
