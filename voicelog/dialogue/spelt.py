"""Numbers that were spelled: kept as remarks, checked where they can be, never repaired."""

from __future__ import annotations

from voicelog.dialogue.scene import Moment, Scene
from voicelog.domain.entry import Amend, Entry, Kind, Question
from voicelog.domain.reading import Act, Statement
from voicelog.domain.slot import SPELT_SLOTS, Slots
from voicelog.domain.vin import likely_vins, vin_check

SPELT = "spelt"
"""The tag of everything spelled."""

_NOT_EVERYWHERE = "outside North America a number need not have a check digit"


def say_spelt(scene: Scene, statement: Statement, moment: Moment) -> None:
    """A new remark, or what was spelled before put right; a question where the check fails."""
    target = _meant(scene, statement) if statement.act is Act.CORRECTION else None
    text = next(iter(statement.slots.values()), "")
    slot = _slot(statement.slots if target is None else target.slots)
    doubts, questions = _checked(slot, str(text))
    doubts = (*statement.doubts, *doubts)
    entry_id = scene.next_id(moment) if target is None else target.id
    if target is None:
        entry = Entry(
            entry_id, moment.utterance, moment.at, Kind.REMARK, statement.slots, statement.text,
            doubts, questions=questions, tags=statement.tags,
        )  # fmt: skip
        scene.add(entry, moment)
    elif text:
        scene.amend(Amend(entry_id, {slot: text}, "correction", doubts=doubts, questions=questions))
    else:
        scene.refused = "no letter or digit was understood; spell it again"
    scene.asked = entry_id if questions else None


def kept_as_heard(entry: Entry) -> Amend:
    """It was heard right, whatever the check digit says: the answer settles the doubt."""
    slot = _slot(entry.slots)
    return Amend(entry.id, {slot: entry.slots[slot]}, why="affirm", doubts=())


def _meant(scene: Scene, statement: Statement) -> Entry | None:
    """The newest of the same kind; of any kind where none was named."""
    slot = _slot(statement.slots)
    spelt = [e for e in scene.newest_first(Kind.REMARK) if SPELT in e.tags]
    return next((e for e in spelt if slot in (SPELT, _slot(e.slots))), None)


def _slot(slots: Slots) -> str:
    """Which of the slots of *I spell* is there."""
    return next((name for name in SPELT_SLOTS if name in slots), SPELT)


def _checked(slot: str, text: str) -> tuple[tuple[str, ...], tuple[Question, ...]]:
    """Doubts and questions about what was spelled; only an identification number has a check."""
    if slot != "vin" or not text:
        return (), ()
    checked = vin_check(text)
    if checked.valid:
        return (), ()
    where = f"; {_NOT_EVERYWHERE}" if checked.expected else ""
    return (f"{checked.problem}{where}",), (Question("vin", (*likely_vins(text), text)),)
