"""Whatever two ears hear: the log folds to what was live, and nothing unsafe is softened unasked."""

from __future__ import annotations

from functools import cache

from hypothesis import given, settings
from hypothesis import strategies as st

from voicelog.config.grammar import Grammar, load_grammar
from voicelog.config.settings import Settings
from voicelog.dialogue.dialogue import Dialogue
from voicelog.domain.entry import Change
from voicelog.domain.grade import Grade
from voicelog.domain.heard import Heard, Hypothesis
from voicelog.findings.ledger import Ledger
from voicelog.runtime.understanding import Understanding

WORDS = (
    "left", "right", "sill", "seal", "rear", "rail", "hole", "whole", "crack", "surface", "rust",
    "rest", "control", "arm", "mount", "it", "gives", "thirty", "mil", "no", "solid", "correction",
    "disregard", "that", "affirm", "negative", "photo", "the", "lunch", "scale", "outrigger",
)  # fmt: skip
SAID = st.lists(st.sampled_from(WORDS), max_size=9).map(" ".join)
SENTENCES = st.one_of(
    SAID,
    st.sampled_from(
        (
            "right control arm mount, whole, it gifts", "left sill sir rust", "cab mount, scale",
            "right sill, surface rust", "right shock mount has a hole", "affirm", "negative",
            "correction, right side", "thirty millimetres", "surface rust",
        )
    ),
)  # fmt: skip
TURNS = st.lists(st.tuples(SENTENCES, SENTENCES, st.booleans()), min_size=1, max_size=6)


@cache
def _grammar() -> Grammar:
    return load_grammar()


def _heard(text: str, engine: str) -> Heard:
    return Heard((Hypothesis(text, -1.0),) if text else (), engine)


def _unsafe(understanding: Understanding) -> set[str]:
    live = understanding.inspection().live
    return {finding.entry.id for finding in live if finding.grade is Grade.UNSAFE}


@settings(max_examples=40)
@given(TURNS)
def test_a_log_folds_to_what_was_live(turns: list[tuple[str, str, bool]]) -> None:
    """Judged at once or after somebody has gone on, asked or not, affirmed or not."""
    grammar, changes = _grammar(), list[tuple[Change, float]]()
    live, waiting = Understanding(Settings(), grammar, 8.0), []
    for number, (first, second, at_once) in enumerate(turns, 2):
        at_s = 4.0 * number
        done = live.take(
            _heard(first, "built-in"), utterance=f"u{number}", at="2026-01-01T00:00:00Z",
            at_s=at_s, began_s=at_s - 1.0,
        )  # fmt: skip
        changes += [(change, at_s) for change in done.turn.changes]
        if live.reason(done.reading, done.findings) and done.turn.keep:
            assert live.taken is not None
            waiting.append((live.taken, second))
        for taken, words in waiting if at_once else ():
            judged, before = live.judge(taken, _heard(words, "second")), _unsafe(live)
            live.heed(judged.changes, judged.ask, at_s)
            changes += [(change, at_s) for change in judged.changes]
            assert before <= _unsafe(live)
        waiting = [] if at_once else waiting
    ledger = Ledger(grammar.zone_map, grammar.rules, Settings().rails)
    ledger.take(change for change, _ in changes)
    assert ledger.inspection() == live.inspection()
    Dialogue(grammar.zone_map).resume(changes)


@settings(max_examples=40)
@given(SENTENCES, SENTENCES)
def test_a_recording_is_never_softened(first: str, second: str) -> None:
    """What one ear heard as unsafe is unsafe whatever the other one made of it."""
    grammar = _grammar()
    one, both = (Understanding(Settings(), grammar, None) for _ in range(2))
    said = {"utterance": "u2", "at": "2026-01-01T00:00:00Z", "at_s": 2.0, "began_s": 1.0}
    one.take(_heard(first, "built-in"), **said)  # type: ignore[arg-type]
    both.take(_heard(first, "built-in"), second=lambda: (_heard(second, "second"), 0.1), **said)  # type: ignore[arg-type]
    assert bool(_unsafe(one)) <= bool(_unsafe(both))
