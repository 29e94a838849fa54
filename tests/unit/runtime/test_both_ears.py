"""A second ear's verdict: what it agrees with, what it puts in doubt, what may be proposed."""

from __future__ import annotations

from dataclasses import replace

from second_ears import heard

from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.domain.entry import Amend, Kind, Replace
from voicelog.domain.heard import Heard, Hypothesis
from voicelog.domain.opinion import Verdict
from voicelog.interpret.reader import Reader
from voicelog.runtime.both_ears import Judged, judge
from voicelog.runtime.dangers import SOFTER
from voicelog.runtime.understanding import Understanding

MISHEARD = "left sale, hole thirty millimetres"
WORDS = "left sill sir rust"
UNSAFE = "right control arm mount, whole, it gifts"


def _take(understanding: Understanding, words: Heard, number: int = 2, second: str | None = None):  # type: ignore[no-untyped-def]
    """An utterance, a second ear asked at once where a text is given."""
    asks = None if second is None else lambda: (heard(second), 0.5)
    return understanding.take(
        words, utterance=f"u{number}", at="2026-01-01T00:00:00Z", at_s=5.0 * number,
        began_s=5.0 * number - 1.0, second=asks,
    )  # fmt: skip


def _judged(grammar: Grammar, first: str, second: str) -> Judged:
    understanding = Understanding(Settings(), grammar, 8.0)
    _take(understanding, heard(first, "built-in"))
    assert understanding.taken is not None
    return understanding.judge(understanding.taken, heard(second))


def test_the_same_told_by_itself_agrees(shipped_grammar: Grammar) -> None:
    """Other words for it are no difference."""
    judged = _judged(shipped_grammar, "left sill, surface rust", "left sill surface rust on it")
    assert (judged.verdict, judged.changes, judged.ask) == (Verdict.AGREES, (), None)


def test_another_side_is_put_in_doubt_and_proposed(shipped_grammar: Grammar) -> None:
    """The entry keeps its own slots; the other ones stand beside it until somebody affirms them."""
    judged = _judged(shipped_grammar, MISHEARD, "right sill, hole, thirty millimetres")
    assert judged.verdict is Verdict.DIFFERS
    (change,) = judged.changes
    assert isinstance(change, Replace)
    assert change.entry.runner_up["side"] == "right"
    assert any("the second ear heard" in doubt for doubt in change.entry.doubts)
    assert judged.ask is not None
    (proposed,) = judged.ask.changes
    assert isinstance(proposed, Replace)
    assert (proposed.entry.kind, proposed.entry.slots["zone"]) == (Kind.FINDING, "sill")
    assert proposed.entry.id == change.entry.id


def test_words_that_were_no_entry_can_become_one(shipped_grammar: Grammar) -> None:
    """A remark of the first ear, a finding of both."""
    judged = _judged(shipped_grammar, "the fill has a hold", "left sill has a hole")
    assert judged.verdict is Verdict.DIFFERS
    assert judged.ask is not None
    (proposed,) = judged.ask.changes
    assert isinstance(proposed, Replace)
    assert proposed.entry.slots["condition"] == "hole"


def test_silence_says_nothing(shipped_grammar: Grammar) -> None:
    """It proves neither that the first ear is right nor that it is wrong."""
    judged = _judged(shipped_grammar, "cab mount, scale", "")
    assert (judged.verdict, judged.changes) == (Verdict.NOTHING, ())


def test_agreement_takes_off_doubts_about_words_alone(shipped_grammar: Grammar) -> None:
    """That two readings fit nearly as well is settled; that no side was said is not."""
    wavers = Heard(
        (Hypothesis("cab mount scale", -2.0), Hypothesis("cab mount hole", -2.0)), "built-in"
    )  # fmt: skip
    understanding = Understanding(Settings(), shipped_grammar, 8.0)
    done = _take(understanding, wavers)
    doubts = done.findings[0].entry.doubts
    assert "another reading fits nearly as well" in doubts
    assert understanding.taken is not None
    told = str(done.findings[0].entry.slots["condition"])
    judged = understanding.judge(understanding.taken, heard(f"cab mount {told}"))
    assert judged.verdict is Verdict.AGREES
    (change,) = judged.changes
    assert isinstance(change, Amend)
    assert change.doubts is not None
    assert "another reading fits nearly as well" not in change.doubts
    assert any(doubt.startswith("which side") for doubt in change.doubts)


def test_what_was_touched_since_is_left_alone(shipped_grammar: Grammar) -> None:
    """A correction in between is a person's word."""
    understanding = Understanding(Settings(), shipped_grammar, 8.0)
    _take(understanding, heard("left rail, hole", "built-in"))
    taken = understanding.taken
    assert taken is not None
    _take(understanding, Heard.typed("correction, crack"), 3)
    judged = understanding.judge(taken, heard("right rear rail, scale, right rear rail"))
    assert (judged.changes, judged.ask) == ((), None)


def test_a_recording_takes_what_both_heard(shipped_grammar: Grammar) -> None:
    """Nobody can be asked; the entry is what both ears together tell."""
    understanding = Understanding(Settings(), shipped_grammar, None)
    done = _take(understanding, heard(WORDS, "built-in"), second="right sill, surface rust")
    (finding,) = done.findings
    assert finding.entry.slots["side"] == "right"
    assert done.reading.text == "right sill, surface rust"
    assert done.opinion is not None
    assert done.opinion.verdict is Verdict.DIFFERS


def test_a_recording_never_softens_unsafe(shipped_grammar: Grammar) -> None:
    """One ear heard it so: it stays, in doubt, with the milder reading beside it."""
    understanding = Understanding(Settings(), shipped_grammar, None)
    second = "right control arm mount surface rust solid"
    done = _take(understanding, heard(UNSAFE, "built-in"), second=second)
    assert done.opinion is not None
    assert done.opinion.verdict is Verdict.DIFFERS
    (finding,) = done.findings
    assert str(finding.grade) == "unsafe"
    assert SOFTER in finding.entry.doubts
    assert done.turn.changes[0].entry.runner_up["condition"] == "surface-rust"  # type: ignore[union-attr]


def test_ears_that_are_torn_leave_a_doubt(shipped_grammar: Grammar) -> None:
    """Both heard a whole sentence, with another side: neither counts for more, and nobody is asked."""
    judged = _judged(shipped_grammar, "left sill surface rust", "right sill surface rust")
    assert (judged.verdict, judged.ask) == (Verdict.OUTWEIGHED, None)
    (change,) = judged.changes
    assert isinstance(change, Replace)
    assert (change.entry.slots["side"], change.entry.runner_up["side"]) == ("left", "right")


def test_it_is_not_asked_where_it_can_change_nothing(shipped_grammar: Grammar) -> None:
    """Every utterance heard twice would double the work for nothing."""
    understanding = Understanding(Settings(), shipped_grammar, None)

    def never() -> tuple[Heard | None, float]:
        raise AssertionError("nothing was in doubt")

    done = understanding.take(
        Heard.typed("left sill, surface rust"), utterance="u2", at="2026-01-01T00:00:00Z",
        at_s=2.0, began_s=1.0, second=never,
    )  # fmt: skip
    assert done.opinion is None


def test_a_recording_loses_none_of_several_unsafe_entries(shipped_grammar: Grammar) -> None:
    """That another one stays unsafe makes up for nothing."""
    understanding = Understanding(Settings(), shipped_grammar, None)
    second = "right control arm mount surface rust solid brake line leak"
    done = _take(understanding, heard(f"{UNSAFE}, brake line, leak", "built-in"), second=second)
    assert [str(finding.grade) for finding in done.findings] == ["unsafe", "unsafe"]
    assert SOFTER in done.findings[0].entry.doubts


def test_a_recording_never_softens_what_was_unsafe_before(shipped_grammar: Grammar) -> None:
    """A correction that the first ear did not hear is not enough."""
    understanding = Understanding(Settings(), shipped_grammar, None)
    _take(understanding, heard("left brake line, leak", "built-in"))
    words = heard("the sill right side too", "built-in")
    done = _take(understanding, words, 3, second="correction, surface rust")
    assert done.opinion is not None
    assert done.opinion.verdict is Verdict.DIFFERS
    (finding,) = understanding.inspection().live
    assert (finding.entry.slots["condition"], str(finding.grade)) == ("leak", "unsafe")


def test_only_the_same_entry_takes_a_doubt_off(shipped_grammar: Grammar) -> None:
    """Talk that only the first ear heard before it pairs it with nothing."""
    understanding = Understanding(Settings(), shipped_grammar, 8.0)
    _take(understanding, heard("left sill, surface rust", "built-in"))
    taken = understanding.taken
    assert taken is not None
    (sure,) = taken.first.entries
    talk = replace(sure, kind=Kind.REMARK, slots={}, doubts=("is it talk?",))
    unsure = replace(sure, id="e2.2", doubts=("another reading fits nearly as well",))
    both = replace(taken.first, entries=(talk, unsure))
    reader = Reader(shipped_grammar.vocabulary, shipped_grammar.zone_map)
    judged = judge(reader, taken.before, both, taken.heard, heard(sure.text))
    assert judged.verdict is Verdict.AGREES
    (change,) = judged.changes
    assert isinstance(change, Amend)
    assert (change.entry, change.doubts) == ("e2.2", ())


def test_a_correction_that_only_both_heard_is_no_new_entry(shipped_grammar: Grammar) -> None:
    """Affirmed, it changes the entry that it is about."""
    understanding = Understanding(Settings(), shipped_grammar, 8.0)
    _take(understanding, heard("left sill, surface rust", "built-in"))
    _take(understanding, heard("the sill right side too", "built-in"), 3)
    assert understanding.taken is not None
    judged = understanding.judge(understanding.taken, heard("correction, right side"))
    assert judged.ask is not None
    (change,) = judged.ask.changes
    assert isinstance(change, Replace)
    assert (change.entry.id, change.entry.slots["side"]) == ("e2.1", "right")
