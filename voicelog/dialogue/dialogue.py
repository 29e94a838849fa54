"""The dialogue: readings in, changes to the inspection out, with what was said before in mind."""

from __future__ import annotations

from collections.abc import Container, Iterable
from dataclasses import dataclass, field, replace

from voicelog.dialogue.answering import Answer
from voicelog.dialogue.ask import Ask, AskPolicy, What
from voicelog.dialogue.live import LAPSED, ask, lapse, play_live
from voicelog.dialogue.place import Place
from voicelog.dialogue.playing import play
from voicelog.dialogue.rivals import with_runners_up
from voicelog.dialogue.scene import Moment, Scene
from voicelog.domain.entry import Change, Entry
from voicelog.domain.reading import Act, Reading, Speech, Statement
from voicelog.domain.slot import Slots
from voicelog.domain.zone import Rails, ZoneMap


@dataclass(frozen=True, slots=True)
class Turn:
    """What one utterance did.

    Args:
        changes: to the inspection, in order.
        act: the act of its last statement.
        refused: why nothing was done, in a plain sentence; empty otherwise.
        standing_by: the tool listens for the resume phrase only.
        finished: the end of the inspection was asked for; live, and affirmed.
        keep: False in stand-by, where neither sound nor text may be kept.
        runner_up: what the next best reading would have changed instead.
        asked: the question that it raises; None where it raises none (always, unless live).
        answered: what became of the question that was open: ``affirm``, ``negative``,
            ``answered`` by other words, ``lapsed``; empty where none was, or it still is.
        closed: that question; None where none was closed.
        place: where the inspector is now; empty where that is not known.
    """

    changes: tuple[Change, ...]
    act: Act
    refused: str = ""
    standing_by: bool = False
    finished: bool = False
    keep: bool = True
    runner_up: tuple[Change, ...] = ()
    asked: Ask | None = None
    answered: str = ""
    closed: Ask | None = None
    place: Slots = field(default_factory=dict)


class Dialogue:
    """Remembers the current place and the entries made so far; does no input or output.

    Args:
        zone_map: the places of the vehicle.
        rails: how its rails are made.
        speech: how long places carry.
        asks: how it asks somebody who can answer; None asks nothing (recordings, text).
        place: where the inspector is at first; not known if None.
    """

    def __init__(
        self,
        zone_map: ZoneMap,
        *,
        rails: Rails = Rails.MIXED,
        speech: Speech = Speech(),
        asks: AskPolicy | None = None,
        place: Slots | None = None,
    ) -> None:
        self._scene = Scene(zone_map, rails, speech, place=Place(place or {}))
        self._asks = asks

    def copy(self) -> Dialogue:
        """Another one that goes on from here and leaves this one as it is."""
        twin = Dialogue(
            self._scene.zone_map, rails=self._scene.rails, speech=self._scene.speech,
            asks=self._asks,
        )  # fmt: skip
        twin._scene = self._scene.copy()
        return twin

    @property
    def touched(self) -> tuple[Entry, ...]:
        """The entries that the last utterance made or changed and that hold, as they stand."""
        return self._scene.touched()

    @property
    def question(self) -> Ask | None:
        """The question that is open, if any."""
        return self._scene.question

    @property
    def place(self) -> Slots:
        """Where the inspector is; empty where that is not known."""
        return self._scene.place.slots

    def resume(self, changes: Iterable[tuple[Change, float]]) -> None:
        """Take up what an earlier run left: its entries, but neither a place nor a question.

        Args:
            changes: all of them, in order, each with the second of the inspection at which it was
                made; they fit one another (a ledger has taken them before).
        """
        for change, made_at_s in changes:
            self._scene.replay(change, made_at_s)

    def lapse(self, at_s: float) -> bool:
        """Close the open question if its time is over; True when it just was."""
        scene, asks = self._scene, self._asks
        if asks is None or scene.question is None or at_s - scene.asked_s <= asks.ask_s:
            return False
        lapse(scene)
        return True

    def knows(self, entry: Entry) -> bool:
        """True while an entry that this dialogue made stands as it did then."""
        return entry.id in self._scene and self._scene[entry.id] == entry

    def note(self, changes: Iterable[Change], at_s: float) -> None:
        """Take in what became of entries by other means than words."""
        for change in changes:
            self._scene.replay(change, at_s)

    def may_offer(self, ask: Ask) -> bool:
        """True where what a second ear heard can be asked about now: nothing else is asked, or just
        whether the same entry is right.
        """
        if self._asks is None or self._scene.standing_by:
            return False
        asked = self._scene.question
        same = asked is not None and asked.what is What.CONFIRM and asked.about == ask.about
        return asked is None or (same and bool(ask.instead))

    def offer(self, ask: Ask, at_s: float) -> bool:
        """Ask about it; a question whether the same entry is right goes on, and *negative* to it
        leads to what the second ear heard.

        Returns:
            True where it has to be said aloud.
        """
        if not self.may_offer(ask):
            return False
        scene, asked = self._scene, self._scene.question
        if asked is None:
            scene.question, scene.asked_s = ask, at_s
            return True
        scene.question = replace(asked, instead=ask.instead)
        return False

    def spoken(self, at_s: float) -> None:
        """The open question has been said aloud (again): the time to answer it begins now."""
        self._scene.asked_s = at_s

    def take(
        self,
        reading: Reading,
        *,
        utterance: str,
        at: str,
        at_s: float,
        began_s: float | None = None,
        unsafe: Container[str] = (),
    ) -> Turn:
        """What the reading does now.

        Args:
            reading: of one utterance.
            utterance: its id, ``u<seq>``.
            at: wall-clock time, RFC 3339.
            at_s: seconds of the inspection.
            began_s: when it began, which decides whether an answer came in time; ``at_s`` if None.
            unsafe: ids of the entries that are graded unsafe now; live, no word alone softens them. It
                must not change before the next utterance.
        """
        acts = [statement.act for statement in reading.statements]
        place = self._scene.place.slots
        if self._scene.standing_by and not (reading.attention and Act.GO_AHEAD in acts):
            return Turn((), Act.REMARK, standing_by=True, keep=False, place=place)
        asked, self._scene.unsafe = self._scene.question, unsafe
        late = self.lapse(at_s if began_s is None else began_s)
        given, changes, others = self._play(reading, Moment(utterance, at, at_s))
        scene, ended = self._scene, Act.FINISH in acts
        if self._asks is not None:
            ended = asked is not None and asked.what is What.FINISH and given.given == "affirm"
        answered = given.given or (LAPSED if late else "")
        return Turn(
            changes, acts[-1], scene.refused, scene.standing_by, ended,
            runner_up=others,
            asked=None if ended else self._ask(given, reading, changes, at_s),
            answered=answered,
            closed=asked if answered else None,
            place=scene.place.slots,
        )  # fmt: skip

    def _play(
        self, reading: Reading, moment: Moment
    ) -> tuple[Answer, tuple[Change, ...], tuple[Change, ...]]:
        """The answer it was, what it changes, and what the next best reading would change."""
        rival = self._scene.copy() if reading.runner_up else None
        given = self._say(self._scene, reading.statements, moment)
        changes = tuple(self._scene.changes)
        if rival is None:
            return given, changes, ()
        self._say(rival, reading.runner_up, moment)
        others = tuple(rival.changes) if rival.changes != self._scene.changes else ()
        return given, with_runners_up(changes, rival.touched()), others

    def _say(self, scene: Scene, statements: tuple[Statement, ...], moment: Moment) -> Answer:
        if self._asks is not None:
            return play_live(scene, statements, moment)
        play(scene, statements, moment)
        return Answer("")

    def _ask(
        self, given: Answer, reading: Reading, changes: tuple[Change, ...], at_s: float
    ) -> Ask | None:
        """Ask what follows, if anything; it takes the place of what was open."""
        if self._asks is None:
            return None
        question = ask(self._scene, given, reading.statements, changes)
        if question is not None:
            self._scene.question, self._scene.asked_s = question, at_s
        return question
