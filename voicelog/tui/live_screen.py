"""The live screen: all widgets, and which message changes which."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from textual.app import ComposeResult
from textual.screen import Screen

from voicelog.domain.entry import Inspection
from voicelog.domain.inert import inert
from voicelog.domain.reading import Act
from voicelog.domain.signal import Signal, Talk
from voicelog.domain.slot import Slots
from voicelog.domain.zone import ZoneMap
from voicelog.findings.places import place_in_words
from voicelog.runtime import messages
from voicelog.runtime.messages import Action, Message, State
from voicelog.tongue import worded
from voicelog.tui.actions import SPOKEN
from voicelog.tui.body import Body
from voicelog.tui.cautions import Cautions
from voicelog.tui.entry_words import most_telling
from voicelog.tui.facts_line import FactsLine
from voicelog.tui.finding_card import FindingCard
from voicelog.tui.heard_lines import HeardLines
from voicelog.tui.hint_line import HintLine
from voicelog.tui.key_line import KeyLine
from voicelog.tui.looks import LEAVING, STATES, Look
from voicelog.tui.meter import Meter
from voicelog.tui.notice_line import NoticeLine
from voicelog.tui.place_line import PlaceLine
from voicelog.tui.plan_view import PlanView
from voicelog.tui.question_card import IN_WORDS, QuestionCard, how_to_answer
from voicelog.tui.state_banner import StateBanner
from voicelog.tui.typed_line import TypedLine
from voicelog.tui.unseen import Unseen

_ACROSS = [(0, "-narrow"), (100, "-wide"), (170, "-wall")]
_DOWN = [(0, "-low"), (34, "-tall"), (52, "-high")]
"""Classes from so many columns and rows on."""
SKIP = "skip"
"""What leaves a question of the set-up open, as it is spoken."""

_PAST_CAUTIONS = frozenset((State.LISTENING, State.TOO_LOUD, State.FINISHED))
"""States that the engine is never in while the cautions wait."""


class LiveScreen(Screen[None]):
    """Shows what the engine publishes; asks nothing by itself.

    Args:
        talk: how much is said aloud to begin with.
        clock: seconds that only run forward.
    """

    HORIZONTAL_BREAKPOINTS = _ACROSS
    VERTICAL_BREAKPOINTS = _DOWN
    AUTO_FOCUS = ""

    def __init__(self, talk: Talk, clock: Callable[[], float]) -> None:
        super().__init__()
        self._talk, self._clock = talk, clock
        self._began_s = clock()
        self._zone_map = ZoneMap("", "", {})
        self._setting_up = self._talked = False
        self._here: Slots = {}
        self.resume = ""
        self.spoken: Mapping[Action, str] = {}

    def compose(self) -> ComposeResult:
        """From the top: state, place, what was heard and found, the plan, what is unseen, facts."""
        yield StateBanner()
        yield HintLine()
        yield PlaceLine()
        yield Cautions()
        yield Body(self._clock)
        yield Unseen(classes="-line")
        yield NoticeLine(self._clock)
        yield Meter()
        yield FactsLine()
        yield TypedLine()
        yield KeyLine()

    def on_mount(self) -> None:
        """Count the seconds."""
        self.query_one(FactsLine).talk = self._talk
        self.set_interval(1.0, self._tick)

    def _tick(self) -> None:
        self.query_one(FactsLine).elapsed_s = int(self._clock() - self._began_s)

    def show(self, message: Message) -> None:
        """Show one message of the engine."""
        _SHOW[type(message)](self, message)

    def show_leaving(self) -> None:
        """The wish to leave was heard; the engine's last word is waited for."""
        self._look(LEAVING)

    def notice(self, text: str, *, serious: bool = False) -> None:
        """Say something of the screen's own."""
        self.query_one(NoticeLine).show(text, serious=serious)

    def answer(self, text: str) -> None:
        """Say what a key came to, whatever notice stands there."""
        self.query_one(NoticeLine).answer(text)

    def toggle_plan(self) -> None:
        """Show the plan, or hide it; in a small window it takes the place of the card."""
        shown = self.query_one(PlanView).display
        self.set_class(shown, "-no-plan")
        self.set_class(not shown, "-plan")

    def _look(self, look: Look, detail: str = "") -> None:
        self.query_one(StateBanner).look = look
        hint = detail or worded(look.hint, **self._said)
        self.query_one(HintLine).text = inert(hint, 240)

    @property
    def _said(self) -> dict[str, str]:
        """What hints name of the words that are spoken."""
        return {"resume": self.resume, "yes": SPOKEN[Action.AFFIRM], "skip": SKIP}

    def _begin(self, opened: messages.Opened) -> None:
        self._zone_map, self.resume = opened.zone_map, opened.resume
        self.spoken = {Action.GO_AHEAD: opened.resume, **opened.spoken}
        self.query_one(FindingCard).rules = opened.rules
        self.query_one(FactsLine).opened = opened
        self.query_one(Cautions).sentences = opened.cautions
        self.set_class(bool(opened.cautions), "-cautions")
        self.query_one(QuestionCard).answered()
        self._inspected(opened.inspection, {})
        if opened.resumed:
            self.notice(worded("An earlier log is gone on with: name the place anew"))

    def _change(self, changed: messages.StateChanged) -> None:
        self._look(STATES[changed.state], changed.detail)
        if changed.state is State.CAUTIONS and not self._talked:
            self.add_class("-cautions")
        elif changed.state in _PAST_CAUTIONS:
            self.remove_class("-cautions")
        self._setting_up = changed.state is State.SET_UP
        if self._setting_up:
            self.query_one(QuestionCard).ask(changed.detail, how=worded(IN_WORDS))
        if changed.state not in (State.HEARING, State.READING):
            self.query_one(HeardLines).partial = ""

    def _measure(self, level: messages.Level) -> None:
        self.query_one(Meter).level = level

    def _listen(self, partial: messages.Partial) -> None:
        self.query_one(HeardLines).partial = partial.text

    def _take(self, took: messages.Took) -> None:
        lines, turn = self.query_one(HeardLines), took.event.turn
        lines.partial = ""
        lines.heard = took.event.heard.text if turn.keep else worded("(standing by: not kept)")
        if turn.act is Act.AFFIRM or turn.changes:  # who talks wants to see what became of it
            self._talked = True
            self.remove_class("-cautions")
        if turn.act in (Act.AFFIRM, Act.NEGATIVE):
            self._settle()
        self._inspected(took.inspection, took.place)
        telling = most_telling(took.event.findings)
        if telling is not None:
            self.query_one(Body).show_finding(telling)

    def _hear_again(self, again: messages.HeardAgain) -> None:
        """A second ear has put an entry in doubt, or out of it."""
        self._inspected(again.inspection, self._here)
        telling = most_telling(again.opined.findings)
        if telling is not None and again.opined.ask is not None:
            self.query_one(Body).show_finding(telling)

    def _inspected(self, inspection: Inspection, here: Slots) -> None:
        """What stands of the whole inspection, and where the inspector is."""
        self._here = here
        place = place_in_words(here, self._zone_map) if "zone" in here else ""
        self.query_one(PlaceLine).place = place
        self.query_one(Body).show(inspection, self._zone_map, here)
        self.query_one("Unseen.-line", Unseen).show(inspection.gaps, self._zone_map)

    def _tell(self, told: messages.Told) -> None:
        if told.text:
            self.query_one(HeardLines).answer = told.text
        if told.question:
            how = worded(IN_WORDS) if self._setting_up else how_to_answer(told.options)
            self.query_one(QuestionCard).ask(told.text, how=how)
        elif told.signal not in (None, Signal.REMARK):
            self._settle()

    def _await(self, awaited: messages.AnswerAwaited) -> None:
        """Count down; what is asked before the log is open, and the cautions, wait for good."""
        if not self._setting_up and not self.has_class("-cautions"):
            self.query_one(QuestionCard).await_answer(awaited.for_s)

    def _settle(self) -> None:
        """Close the question; one that an utterance raises is told after what became of it."""
        self.query_one(QuestionCard).answered()

    def _notice(self, noticed: messages.Noticed) -> None:
        self.notice(noticed.text, serious=noticed.serious)

    def _fall_silent(self, _ended: messages.SoundEnded) -> None:
        self.notice(worded("The recordings are over; keys and typed words still work"))

    def _turn(self, changed: messages.TalkChanged) -> None:
        self.query_one(FactsLine).talk = changed.talk

    def _end(self, closed: messages.Closed) -> None:
        self.query_one(QuestionCard).answered()
        if closed.fault:
            self.notice(closed.fault, serious=True)


_SHOW: Mapping[type, Callable[[LiveScreen, Any], None]] = {
    messages.Opened: LiveScreen._begin,
    messages.StateChanged: LiveScreen._change,
    messages.Level: LiveScreen._measure,
    messages.Partial: LiveScreen._listen,
    messages.Took: LiveScreen._take,
    messages.HeardAgain: LiveScreen._hear_again,
    messages.Told: LiveScreen._tell,
    messages.AnswerAwaited: LiveScreen._await,
    messages.Noticed: LiveScreen._notice,
    messages.SoundEnded: LiveScreen._fall_silent,
    messages.TalkChanged: LiveScreen._turn,
    messages.Closed: LiveScreen._end,
}
"""What each message changes."""
