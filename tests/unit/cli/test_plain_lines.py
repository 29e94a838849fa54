"""What a live inspection tells line by line, for somebody who sees no screen and may hear no voice."""

from __future__ import annotations

import io
from pathlib import Path

from rich.console import Console

from voicelog.cli.plain_lines import PlainLines
from voicelog.dialogue.dialogue import Turn
from voicelog.domain.entry import Entry, Finding, Inspection, Kind
from voicelog.domain.grade import Verdict
from voicelog.domain.heard import Heard
from voicelog.domain.reading import Act, Reading
from voicelog.domain.signal import Signal, Talk
from voicelog.domain.zone import Rails, ZoneMap
from voicelog.runtime.event import Event, Timing
from voicelog.runtime.messages import Message, Opened, TalkChanged, Told, Took

MAP = ZoneMap("small", "Small", {})
NOTHING = Inspection((), {}, (), Verdict("not-enough-seen", "none", "unknown"))
OPENED = Opened(Path("log"), "pickup", "typed", "none", (), NOTHING, MAP, Rails.OPEN, "go ahead")
RUST = Entry("e2.1", "u2", "2026-03-14T08:05:30.000Z", Kind.FINDING, {"condition": "surface-rust"})


def _told(*messages: Message) -> list[str]:
    """The lines after those of the opening."""
    out = io.StringIO()
    lines = PlainLines(Console(file=out, width=100, highlight=False))
    for message in (OPENED, *messages):
        lines.show(message)
    return out.getvalue().splitlines()[2:]


def _took(text: str, act: Act, *findings: Finding, answered: str = "") -> Took:
    turn = Turn((), act, answered=answered)
    event = Event("u2", Heard.typed(text), Reading((), text), turn, findings, Timing())
    return Took(event, NOTHING, {})


def test_a_question_that_lapses_is_told() -> None:
    """It stands by itself, so nobody answers what is asked no longer; other alarms have their lines."""
    assert _told(Told(Signal.DOUBTFUL, "no answer; it stays doubtful")) == [
        "  > no answer; it stays doubtful"
    ]
    assert _told(Told(Signal.LISTENING, "listening")) == []


def test_what_became_of_an_answer_is_told_where_no_entry_tells_it() -> None:
    """After *negative* nothing has changed, and that is the news."""
    no = _took("negative", Act.NEGATIVE, answered="negative")
    goes_on = Told(Signal.LISTENING, "the inspection goes on.")
    assert _told(no, goes_on)[-1] == "  > the inspection goes on."
    changed = _took("left", Act.REPORT, Finding(RUST), answered="answered")
    assert not any(line.startswith("  >") for line in _told(changed, Told(Signal.CHANGED, "left.")))


def test_an_entry_is_not_told_twice() -> None:
    """Its line says what the voice reads back, a doubtful one's as well."""
    doubtful = _took("rust", Act.REPORT, Finding(RUST))
    told = _told(doubtful, Told(Signal.DOUBTFUL, "rust, doubtful."))
    assert not any(line.startswith("  >") for line in told)


def test_how_much_is_said_aloud_is_told_as_it_changes() -> None:
    """The keys - and + do something that can be seen."""
    assert _told(TalkChanged(Talk.TONES)) == ["[Says aloud: tones]"]
