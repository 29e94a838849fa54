"""An utterance taken as the answer to the open question, as far as it is one."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from voicelog.dialogue.ask import Ask, What
from voicelog.dialogue.corrections import correct_entry
from voicelog.dialogue.entries import NO_PLACE
from voicelog.dialogue.place import Place
from voicelog.dialogue.scene import Moment, Scene, only_place
from voicelog.dialogue.settling import affirmed, chosen, says_again, swapped
from voicelog.domain.entry import Amend, Kind
from voicelog.domain.reading import Act, Statement
from voicelog.domain.slot import Slots

Statements = tuple[Statement, ...]

_ANSWERS = (Act.AFFIRM, Act.NEGATIVE)


@dataclass(frozen=True, slots=True)
class Answer:
    """What became of the open question.

    Args:
        given: ``affirm``, ``negative`` or ``answered``; empty where this was no answer.
        rest: the statements that are left for the dialogue.
        again: what is to be asked next about the same thing.
    """

    given: str
    rest: Statements = ()
    again: Ask | None = None


def answer(scene: Scene, statements: Statements, moment: Moment) -> Answer:
    """Do what the utterance answers; *affirm* and *negative* are never left for the dialogue.

    Where both were said, the later one counts.
    """
    word = next((s.act for s in reversed(statements) if s.act in _ANSWERS), None)
    rest = tuple(s for s in statements if s.act not in _ANSWERS)
    if scene.question is None:
        if word is not None and not rest:
            scene.refused = _too_late(scene.lapsed)
        return Answer("", rest)
    return _BY_WHAT[scene.question.what](scene, scene.question, word, rest, moment)


def _entry(scene: Scene, ask: Ask, word: Act | None, rest: Statements, moment: Moment) -> Answer:
    """Is it right, or was something else meant?"""
    entry = scene[ask.about]
    again = bool(rest) and says_again(entry, rest[0])
    if word is Act.AFFIRM or (again and word is None and ask.what is What.CONFIRM):
        swap = ask.what is What.INSTEAD
        scene.amend(swapped(entry, ask) if swap else affirmed(entry))
        return Answer("affirm", rest[1:] if again else rest)
    return _denied(scene, ask, rest, moment) if word is Act.NEGATIVE else Answer("", rest)


def _denied(scene: Scene, ask: Ask, rest: Statements, moment: Moment) -> Answer:
    """ "Negative, right side" puts it right; alone it asks for the other reading, or takes it back."""
    entry = scene[ask.about]
    if rest and rest[0].act in (Act.REPORT, Act.CORRECTION):
        correct_entry(scene, entry, replace(rest[0], act=Act.CORRECTION), moment)
        return Answer("negative", rest[1:], ask if scene.refused else None)
    if rest and rest[0].act is Act.DISREGARD:
        rest = rest[1:]
    elif ask.what is What.CONFIRM and ask.instead:
        return Answer("negative", rest, replace(ask, what=What.INSTEAD))
    scene.withdraw(entry)
    return Answer("negative", rest)


def _slot(scene: Scene, ask: Ask, word: Act | None, rest: Statements, moment: Moment) -> Answer:
    """One of the options; *negative* leaves it open for good, *affirm* alone says nothing."""
    change = chosen(scene[ask.about], ask, rest[0], scene.zone_map) if rest else None
    if change is not None:
        _place(scene, change, moment)
        return Answer("answered", rest[1:])
    if word is Act.AFFIRM and ask.slot == "vin":
        scene.amend(affirmed(scene[ask.about]))
        return Answer("affirm", rest)
    if word is Act.NEGATIVE:
        return Answer("negative", rest)
    if (word is not None and not rest) or (rest and _is_as_open(rest[0], ask)):
        scene.refused = "that does not tell which one"
        return Answer("", rest[1:], ask)
    return Answer("", rest)


def _is_as_open(statement: Statement, ask: Ask) -> bool:
    """ "The rail", where the question is which rail: the same question again."""
    said = any(question.slot == ask.slot for question in statement.questions)
    return said and not statement.slots.get("condition") and not statement.clear


def _place(scene: Scene, change: Amend, moment: Moment) -> None:
    """The entry lies where the answer says, and there the inspector is.

    A fault of the same breath whose place hung on the open zone ("rail, scale on the left, hole on
    the right") lies there too.
    """
    entry = scene[change.entry]
    scene.amend(change)
    scene.place = Place(only_place(scene[change.entry].slots), said_at_s=moment.at_s)
    other = scene.unplaced
    if "zone" in change.set and other is not None and scene[other].utterance == entry.utterance:
        doubts = tuple(doubt for doubt in scene[other].doubts if doubt != NO_PLACE)
        zone: Slots = {"zone": change.set["zone"]}
        scene.amend(Amend(other, zone, why="place", kind=Kind.FINDING, doubts=doubts))
        scene.unplaced = None


def _second(scene: Scene, ask: Ask, word: Act | None, rest: Statements, moment: Moment) -> Answer:
    """*Affirm* takes over what the second ear heard, and there the inspector is."""
    if word is Act.AFFIRM:
        for change in ask.changes:
            scene.put(change, moment)
        scene.place = Place(only_place(scene[ask.about].slots), said_at_s=moment.at_s)
    return Answer(str(word or ""), rest)


def _finish(
    _scene: Scene, _ask: Ask, word: Act | None, rest: Statements, _moment: Moment
) -> Answer:
    return Answer(str(word or ""), rest)


def _lower(scene: Scene, ask: Ask, word: Act | None, rest: Statements, _moment: Moment) -> Answer:
    """The reason first, in words that report nothing; they are kept as a remark like any others."""
    if word is Act.NEGATIVE:
        return Answer("negative", rest)
    remarks = [s.text for s in rest if s.act is Act.REMARK and not s.tags]
    reason = " ".join((ask.reason, *remarks)).strip()
    if word is Act.AFFIRM and reason:
        scene.softened = ask.about
        scene.amend(Amend(ask.about, {"spoken_grade": ask.grade}, why="affirm"))
        return Answer("affirm", rest)
    if word is Act.AFFIRM:
        scene.refused = "no reason was said yet"
    more = reason != ask.reason or word is Act.AFFIRM
    return Answer("", rest, replace(ask, reason=reason) if more else None)


def _too_late(lapsed: Ask | None) -> str:
    """Why an answer answers nothing."""
    if lapsed is None:
        return "no question is open"
    if lapsed.what is What.FINISH:
        return "the question has lapsed; say finish inspection again"
    if lapsed.what is What.LOWER:
        return "the question has lapsed, and unsafe counts; say the grade again"
    if lapsed.what is What.SECOND:
        return "the question has lapsed, and the entry stays as it was heard first; correct it"
    return "the question has lapsed, and the entry stays doubtful; say it again or correct it"


_BY_WHAT: Mapping[What, Callable[[Scene, Ask, Act | None, Statements, Moment], Answer]] = {
    What.CONFIRM: _entry,
    What.INSTEAD: _entry,
    What.SLOT: _slot,
    What.FINISH: _finish,
    What.LOWER: _lower,
    What.SECOND: _second,
}
