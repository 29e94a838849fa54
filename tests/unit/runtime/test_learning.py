"""A lesson tried on a log before it is remembered."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path
from time import process_time

import pytest

from voicelog.config.grammar import Grammar
from voicelog.config.learned import learned
from voicelog.config.settings import Settings
from voicelog.domain.change_json import change_to_json
from voicelog.domain.entry import Amend, Change, Withdraw
from voicelog.domain.fact import Fact
from voicelog.domain.heard import Heard
from voicelog.domain.lesson import Lesson
from voicelog.errors import LogFault, UsageFault
from voicelog.interpret.reader import Reader
from voicelog.runtime.learning import Trial, learned_body, remember, trial
from voicelog.runtime.lesson_words import holds, makes_findings, said_already
from voicelog.runtime.taught import taught
from voicelog.runtime.understanding import Understanding
from voicelog.runtime.utterance_fact import utterance_body

SEAL = Lesson("seal", "zone", "sill", "sill", 0.85)
WHOLE = Lesson("whole", "condition", "hole", "hole", 0.99)
AT = "2026-01-01T00:00:00Z"
DAY = date(2026, 11, 25)


def log_of(grammar: Grammar, *texts: str) -> list[Fact]:
    """The facts of an inspection, ten seconds between two utterances; the first is ``u2``."""
    facts = [Fact(1, AT, 0.0, "", "opened", {})]
    understanding = Understanding(Settings(), grammar, None)
    for number, text in enumerate(texts, start=2):
        name, heard, at_s = f"u{number}", Heard.typed(text), 10.0 * number
        done = understanding.take(heard, utterance=name, at=AT, at_s=at_s, began_s=at_s)
        body = utterance_body(name, heard, done.reading, done.turn, done.findings)
        facts.append(Fact(number, AT, at_s, "", "utterance", body))
    return facts


def corrected(facts: Sequence[Fact], *changes: Change) -> list[Fact]:
    """The log with one correction at the bench."""
    body = {"did": "correct", "by": "ann", "changes": [change_to_json(one) for one in changes]}
    return [*facts, Fact(len(facts) + 1, AT, 0.0, "", "revised", body)]


def tried(grammar: Grammar, facts: Sequence[Fact], lesson: Lesson = SEAL, name: str = "") -> Trial:
    """What remembering would do."""
    return trial(lesson, Settings(), facts, grammar, utterance=name)


def test_it_shows_what_else_in_the_log_it_would_have_changed(shipped_grammar: Grammar) -> None:
    """Utterance, words, the reading as it is and as it would have been; not the one corrected."""
    facts = log_of(shipped_grammar, "left seal whole", "right seal whole", "left sill, scale")
    found = tried(shipped_grammar, facts, name="u2")
    assert [(c.utterance, c.text) for c in found.would_change] == [("u3", "right seal whole")]
    (change,) = found.would_change
    assert (change.before, change.after) == ("right", "right sill, hole")
    assert change.line == "“right seal whole”: right → right sill, hole"
    assert not found.refused


def test_without_its_words_in_the_log_nothing_changes(shipped_grammar: Grammar) -> None:
    """Words are compared whole: "sealed" and "seal ant" are no seal."""
    facts = log_of(shipped_grammar, "left rail sealed", "seal ant on the left sill")
    found = tried(shipped_grammar, facts)
    assert found.would_change == ()
    assert not found.refused


def test_a_right_reading_of_the_log_that_it_would_spoil_refuses_it(
    shipped_grammar: Grammar,
) -> None:
    """With that utterance as the example."""
    facts = log_of(shipped_grammar, "left seal whole", "left front rail, seal scale")
    found = tried(shipped_grammar, facts)
    assert found.refused.startswith(
        "“left front rail, seal scale” (u3) is rightly read as left front rail, scale"
    )
    assert "and would be read as" in found.refused


@pytest.mark.parametrize("deed", ["corrected", "withdrawn", "doubtful"])
def test_an_entry_that_nobody_vouches_for_refuses_nothing(
    shipped_grammar: Grammar, deed: str
) -> None:
    """It was corrected since, taken back, or doubtful from the first."""
    facts = log_of(shipped_grammar, "left front rail, seal scale")
    changes: dict[str, Change] = {
        "corrected": Amend("e2.1", {"zone": "sill"}, "correction"),
        "withdrawn": Withdraw("e2.1"),
        "doubtful": Amend("e2.1", {}, "correction", doubts=("listen again",)),
    }
    found = tried(shipped_grammar, corrected(facts, changes[deed]))
    assert not found.refused
    assert len(found.would_change) == 1


def test_what_was_added_to_an_entry_leaves_it_right(shipped_grammar: Grammar) -> None:
    """A probe said later, or a doubt that was confirmed, is no correction."""
    facts = log_of(shipped_grammar, "left front rail, seal scale")
    added = corrected(facts, Amend("e2.1", {"probe": "dents"}, "probe", doubts=()))
    assert tried(shipped_grammar, added).refused


def test_a_word_that_people_say_is_never_learned(shipped_grammar: Grammar) -> None:
    """ "Whole" is misheard for hole, and said as well: only the words around can tell."""
    assert tried(shipped_grammar, (), WHOLE).refused == "people say “whole” in ordinary talk"
    thin = Lesson("scales", "condition", "thinning", "stale", 0.9)
    assert tried(shipped_grammar, (), thin).refused == "people say “scales” for condition scale"


@pytest.mark.parametrize(
    ("heard", "slot", "value", "say"),
    [
        ("rest", "rust", "surface-rust", "rust"), ("hold", "condition", "hole", "holed"),
        ("track", "condition", "crack", "crack"), ("form", "probe", "firm", "firm"),
    ],
)  # fmt: skip
def test_an_everyday_word_alone_is_never_learned_for_what_is_there(
    shipped_grammar: Grammar, heard: str, slot: str, value: str, say: str
) -> None:
    """No phrase has it, and yet it would make findings of talk; with a word beside it, it is no
    longer talk.
    """
    alone = tried(shipped_grammar, (), Lesson(heard, slot, value, say, 0.9))
    assert alone.refused == f"“{heard}” is an everyday word, and would turn talk into findings"
    beside = Lesson(f"{heard} zill", slot, value, f"{say} sill", 0.9)
    assert makes_findings(beside) == ""


def test_it_is_learned_for_a_place(shipped_grammar: Grammar) -> None:
    """A place alone makes no finding, and an accent makes everyday words of places."""
    for lesson in (
        Lesson("lift", "side", "left", "left", 0.87),
        Lesson("hill", "zone", "sill", "sill", 0.76),
    ):
        assert tried(shipped_grammar, (), lesson).refused == ""


@pytest.mark.parametrize("heard", ["four", "twenty two", "dozen", "3/16", "inches"])
def test_a_number_is_never_learned_as_anything_else(shipped_grammar: Grammar, heard: str) -> None:
    """ "Four millimetres" would be on the floor. A part of a name may sound like one."""
    floor = Lesson(heard, "zone", "floor-pan", "floor", 0.9)
    assert tried(shipped_grammar, (), floor).refused == f"people say “{heard}” for a number"
    assert said_already(replace(floor, heard=f"{heard} pen"), shipped_grammar.vocabulary) == ""


def test_words_that_hold_a_phrase_of_something_else_are_not_learned(
    shipped_grammar: Grammar,
) -> None:
    """The hole would be lost; an end that was said itself, or a small word, would not."""
    lost = Lesson("where hole", "zone", "rear-rail", "rear rail", 0.9)
    assert said_already(lost, shipped_grammar.vocabulary) == (
        "“where hole” holds “hole”, and people say “hole” for condition hole"
    )
    for kept in ("front rain", "the front rain"):
        lesson = Lesson(kept, "zone", "front-rail", "front rail", 0.9)
        assert said_already(lesson, shipped_grammar.vocabulary) == ""


def test_a_negation_inside_is_never_lost(shipped_grammar: Grammar) -> None:
    """ "No" turns a finding round, so no lesson may swallow it."""
    lesson = Lesson("no crew", "condition", "scale", "crusty", 0.9)
    assert "holds “no”" in said_already(lesson, shipped_grammar.vocabulary)


def test_a_phrase_that_holds_the_words_refuses_it_only_where_it_would_be_read_differently(
    shipped_grammar: Grammar,
) -> None:
    """Longer phrases win: gaffer tape stays that, whatever the gaffer alone is taken for."""
    gaffer = Lesson("gaffer", "probe", "soft", "softer", 0.9)
    assert "gaffer taped" in shipped_grammar.vocabulary.spoken()
    assert tried(shipped_grammar, (), gaffer).refused == ""


def test_a_bundled_sample_that_it_would_spoil_refuses_it(
    shipped_grammar: Grammar, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The recordings of the demonstration are read right, and stay so."""
    said = "left front rail, seal scale"
    monkeypatch.setattr("voicelog.runtime.lesson_words._sample_texts", lambda: (said,))
    assert tried(shipped_grammar, ()).refused.startswith(f"“{said}” is rightly read as")


def test_lost_samples_keep_nobody_from_learning(
    shipped_grammar: Grammar, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """An installation without its recordings still works."""
    from voicelog.runtime import lesson_words

    lesson_words._sample_texts.cache_clear()
    monkeypatch.setattr(lesson_words, "samples_dir", lambda: tmp_path)
    assert not tried(shipped_grammar, ()).refused
    lesson_words._sample_texts.cache_clear()


def test_other_hypotheses_are_read_as_well(shipped_grammar: Grammar) -> None:
    """The words may stand in what the ear thought second."""
    facts = log_of(shipped_grammar, "left wheel arch, hole")
    body = dict(facts[1].body)
    others = [
        {"text": text, "score": -n} for n, text in enumerate(("left zeal, hole", "left seal, hole"))
    ]
    body["heard"] = {"engine": "built-in", "hypotheses": others}
    found = tried(shipped_grammar, [facts[0], replace(facts[1], body=body)])
    assert len(found.would_change) <= 1


def test_a_damaged_line_is_told(shipped_grammar: Grammar) -> None:
    """Which one it is, and what to do."""
    facts = log_of(shipped_grammar, "left sill, hole")
    broken = replace(facts[1], body={**facts[1].body, "heard": 7})
    with pytest.raises(LogFault, match="Line 2 of the log does not say"):
        tried(shipped_grammar, [facts[0], broken])


def test_it_takes_no_second(shipped_grammar: Grammar) -> None:
    """Of processor time, for a log of a hundred utterances that all hold the words."""
    texts = [f"left seal whole number {n}" for n in range(100)]
    facts = log_of(shipped_grammar, *texts)
    begun = process_time()
    assert len(tried(shipped_grammar, facts).would_change) > 50
    assert process_time() - begun < 1.0


def test_a_lesson_replaces_an_earlier_mishearing(shipped_grammar: Grammar) -> None:
    """The same words mean one thing."""
    once = taught(shipped_grammar.vocabulary, SEAL)
    twice = taught(once, replace(SEAL, value="bulkhead"))
    assert [p.value for p in twice.phrases if p.text == "seal"] == ["bulkhead"]


def test_of_singular_and_plural_the_later_lesson_holds(shipped_grammar: Grammar) -> None:
    """The reader tells no endings apart, so the earlier one would stand in the way."""
    words = taught(shipped_grammar.vocabulary, Lesson("seals", "zone", "sill", "sills", 0.9))
    words = taught(words, Lesson("seal", "zone", "crush-section", "crush section", 0.9))
    reader = Reader(words, shipped_grammar.zone_map)
    for said in ("left seal, scale", "left seals, scale"):
        (statement,) = reader.read(Heard.typed(said)).statements
        assert statement.slots["zone"] == "crush-section"


@pytest.mark.parametrize(
    ("words", "text", "there"),
    [
        ("seal", "Left SEALS, hole", True),
        ("cross ember", "crossember", True),
        ("seal", "sealed", False),
        ("seal", "unseal", False),
        ("seal", "", False),
    ],
)
def test_words_are_found_whatever_their_endings_and_spaces(
    words: str, text: str, there: bool
) -> None:
    """As the reader would find them."""
    assert holds(words, text) is there


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    """With a folder for what is learned."""
    return Settings(into=tmp_path, learned=tmp_path / "words", inspector="ann")


def test_a_lesson_that_was_tried_is_remembered(settings: Settings) -> None:
    """And the log's line says all of it."""
    path = remember(Trial(SEAL), settings, for_="person", on=DAY, sentence="left seal whole")
    assert path.name == "learned-ann.toml"
    assert [(one.heard, one.for_) for one in learned(settings)] == [("seal", "person")]
    assert learned_body(SEAL, for_="person", by="ann", entry="e2.1") == {
        "heard": "seal", "slot": "zone", "value": "sill", "say": "sill", "for": "person",
        "by": "ann", "entry": "e2.1",
    }  # fmt: skip


def test_one_that_was_refused_is_not(settings: Settings) -> None:
    """Whoever asks."""
    with pytest.raises(UsageFault, match="It is not remembered: people say"):
        remember(Trial(WHOLE, (), "people say “whole”"), settings, for_="shop", on=DAY)
    assert learned(settings) == ()


def test_of_two_entries_of_one_sentence_each_counts_by_itself(shipped_grammar: Grammar) -> None:
    """The first was corrected; the second, confirmed, is read as before and is not spoilt."""
    lyft = Lesson("lyft", "side", "left", "left", 0.87)
    facts = log_of(shipped_grammar, "shock mount has scale on the lyft, the same on the right")
    sure = [Amend(name, {}, "correction", doubts=()) for name in ("e2.1", "e2.2")]
    left = Amend("e2.1", {"side": "left"}, "correction", doubts=())
    assert "(u2)" in tried(shipped_grammar, corrected(facts, *sure), lyft).refused
    assert not tried(shipped_grammar, corrected(facts, left, sure[1]), lyft).refused
