"""One utterance of somebody who can be asked: answers first, then what else it says."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from voicelog.dialogue.answering import Answer, answer
from voicelog.dialogue.ask import Ask, What
from voicelog.dialogue.asking import next_question
from voicelog.dialogue.entries import remark
from voicelog.dialogue.playing import run
from voicelog.dialogue.scene import Moment, Scene
from voicelog.dialogue.spelt import SPELT
from voicelog.domain.entry import Add, Change
from voicelog.domain.reading import Act, Statement

LAPSED = "lapsed"

_BESIDE = (Act.REMARK, Act.SAY_AGAIN, Act.READ_BACK, Act.WHAT_IS_OPEN, Act.GO_AHEAD)
"""What may be said while a question is open without giving it up: talk, and asking to hear more."""


def play_live(scene: Scene, statements: Sequence[Statement], moment: Moment) -> Answer:
    """All that one utterance does, the answer to an open question included.

    Whoever goes on with the inspection instead of answering lets the question lapse: what it was
    about stays as doubtful as it is.
    """
    scene.begin()
    scene.lowering = None
    asked = scene.question
    given = answer(scene, tuple(statements), moment)
    run(scene, given.rest, moment)
    _keep_words(scene, statements, moment)
    if asked is None:
        return given
    if given.given:
        scene.question = None
    elif _is_dealt_with(scene, asked):
        scene.question, given = None, replace(given, given="answered")
    elif not given.again and not all(map(_is_beside, given.rest)):
        lapse(scene)
        given = replace(given, given=LAPSED)
    return given


def ask(
    scene: Scene, given: Answer, statements: Sequence[Statement], changes: Sequence[Change]
) -> Ask | None:
    """The question that follows from an utterance; None where nothing new is asked."""
    if scene.standing_by:
        return None
    if any(statement.act is Act.FINISH for statement in statements):
        return Ask(What.FINISH)
    if scene.lowering is not None:
        return Ask(What.LOWER, scene.lowering[0], grade=scene.lowering[1])
    if given.again is not None:
        return given.again
    touched = [entry.id for entry in scene.touched()]
    waiting = scene.waiting if given.given else ()
    about = [scene[name] for name in dict.fromkeys((*touched, *waiting)) if name in scene]
    question, others = next_question(scene, changes, about)
    if about:
        scene.waiting = others
    return question


def lapse(scene: Scene) -> None:
    """Nobody answered: the question is closed, and what it was about stays in doubt."""
    scene.lapsed, scene.question, scene.waiting = scene.question, None, ()


def _is_dealt_with(scene: Scene, asked: Ask) -> bool:
    """What it was about was put right, told more closely or taken back."""
    new = any(isinstance(c, Add) and c.entry.id == asked.about for c in asked.changes)
    if not asked.about or new:  # what is only proposed is not there before it is affirmed
        return False
    return asked.about not in scene or asked.about in {entry.id for entry in scene.touched()}


def _is_beside(statement: Statement) -> bool:
    return statement.act in _BESIDE and SPELT not in statement.tags


def _keep_words(scene: Scene, statements: Sequence[Statement], moment: Moment) -> None:
    """A grade that was held back is not lost: its words are a remark until it is affirmed."""
    if scene.lowering is not None and not scene.changes:
        said = next(s for s in statements if "spoken_grade" in s.slots)
        remark(scene, said, moment)
