"""Whatever is said in whatever order, live: nothing breaks, nothing unsafe is softened in passing."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from hypothesis import given
from hypothesis import strategies as st

from voicelog.config.grammar import Grammar, load_grammar
from voicelog.dialogue.ask import AskPolicy, What
from voicelog.dialogue.dialogue import Dialogue, Turn
from voicelog.domain.entry import Amend, Change, Kind
from voicelog.domain.grade import Grade
from voicelog.domain.heard import Heard
from voicelog.domain.reading import Reading
from voicelog.domain.zone import Rails
from voicelog.findings.grading import worst_said
from voicelog.findings.ledger import Ledger
from voicelog.interpret.reader import Reader

SAID = (
    "left rear rail, hole", "right shock mount, crack", "cab mount, scale", "hanger, crack",
    "rail, scale on the left, hole on the right", "left sill inside, scale", "left", "the rear one",
    "inboard", "affirm", "negative", "negative, right side", "affirm, thirty millimetres",
    "call it cosmetic", "correction, cosmetic", "negative, call it cosmetic",
    "because the bracket was cut", "call it unsafe",
    "correction, scale", "disregard", "same again on the other side", "scraper went through it",
    "another one", "hole", "left kick-up", "kettle is on", "say again", "finish inspection",
    "stand by", "logbook go ahead", "i spell vin one mike eight golf", "correction, i spell golf",
)  # fmt: skip

STEPS = st.lists(
    st.tuples(
        st.sampled_from(SAID), st.booleans(), st.sampled_from(("", *SAID)), st.integers(1, 12)
    ),
    max_size=12,
)
"""Words, whether they were faint, what they may have been instead, and the seconds before them."""


@cache
def _grammar() -> Grammar:
    return load_grammar()


@cache
def _reader() -> Reader:
    return Reader(_grammar().vocabulary, _grammar().zone_map)


@cache
def _reading(text: str) -> Reading:
    return _reader().read(Heard.typed(text))


class _Inspection:
    """A live dialogue with the ledger that grades what it changes."""

    def __init__(self) -> None:
        grammar = _grammar()
        self.dialogue = Dialogue(grammar.zone_map, asks=AskPolicy())
        self.ledger = Ledger(grammar.zone_map, grammar.rules, Rails.MIXED)
        self.made: list[tuple[Change, float]] = []
        self.at_s = 0.0

    def unsafe(self) -> set[str]:
        live = self.ledger.inspection().live
        return {f.entry.id for f in live if worst_said(f) is Grade.UNSAFE}

    def say(self, text: str, faint: bool, instead: str, after_s: int) -> Turn:
        self.at_s += after_s
        reading = _reading(text)
        if faint:
            said = tuple(replace(one, doubts=("heard faintly",)) for one in reading.statements)
            reading = replace(reading, statements=said)
        if instead:
            reading = replace(reading, runner_up=_reading(instead).statements)
        turn = self.dialogue.take(
            reading, utterance=f"u{len(self.made) + 2 + int(self.at_s)}", at="", at_s=self.at_s,
            unsafe=self.unsafe(),
        )  # fmt: skip
        self.ledger.apply(turn.changes)
        self.made += [(change, self.at_s) for change in turn.changes]
        return turn


@given(STEPS)
def test_any_conversation_fits_its_ledger(steps: list[tuple[str, bool, str, int]]) -> None:
    """Every change fits, one question is open at most, and the end needs *affirm* to its question."""
    inspection = _Inspection()
    for step in steps:
        before = inspection.dialogue.question
        turn = inspection.say(*step)
        open_now = inspection.dialogue.question
        assert turn.asked is None or turn.asked == open_now
        assert not turn.finished or (before is not None and before.what is What.FINISH)
        assert (
            not open_now
            or not open_now.about
            or open_now.about
            in {finding.entry.id for finding in inspection.ledger.inspection().live}
        )


@given(STEPS)
def test_no_word_in_passing_lowers_unsafe(steps: list[tuple[str, bool, str, int]]) -> None:
    """A lower grade of an unsafe entry comes only with the *affirm* to its own question."""
    inspection = _Inspection()
    for step in steps:
        unsafe = inspection.unsafe()
        turn = inspection.say(*step)
        for change in turn.changes:
            lowers = isinstance(change, Amend) and change.set.get("spoken_grade", "unsafe")
            if isinstance(change, Amend) and change.entry in unsafe and lowers != "unsafe":
                assert turn.closed is not None
                assert (turn.closed.what, turn.answered) == (What.LOWER, "affirm")
                assert turn.closed.about == change.entry


@given(STEPS)
def test_a_resumed_dialogue_knows_the_same_entries(
    steps: list[tuple[str, bool, str, int]],
) -> None:
    """Whatever was said, asked and answered before."""
    inspection = _Inspection()
    for step in steps:
        inspection.say(*step)
    again = Dialogue(_grammar().zone_map, asks=AskPolicy())
    again.resume(inspection.made)
    live = [list(one._scene.newest_first(*Kind)) for one in (inspection.dialogue, again)]
    assert live[0] == live[1]
    assert (again.place, again.question) == ({}, None)
