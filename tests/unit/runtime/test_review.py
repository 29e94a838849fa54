"""Each deed at the bench: what it changes, what its line says, what it refuses."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from reviewing import at_the_bench, clip, kept, slots

from voicelog.config.grammar import Grammar
from voicelog.domain.entry import Kind
from voicelog.domain.heard import Heard, Hypothesis
from voicelog.errors import UsageFault
from voicelog.journal.clips import read_clip
from voicelog.journal.reading import verify
from voicelog.runtime.review import Review

SAID = (
    "left sill, surface rust, metal is firm",  # e2.1
    "hole on the left kick-up, scale on the right",  # e3.1, e3.2
    "both rails scale",  # e4.1, of which rails nobody said
    "cab mount, left side, scale",  # e5.1
    "another one, scraper went through it",  # e6.1
)


@pytest.fixture(autouse=True)
def loaded_once(shipped_grammar: Grammar, monkeypatch: pytest.MonkeyPatch) -> None:
    """A log's own copy is the shipped grammar here; another test opens it."""
    monkeypatch.setattr(
        "voicelog.runtime.bench_log.checked_folder", lambda *_, **__: shipped_grammar
    )


@pytest.fixture(scope="module")
def inspected(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """That inspection, said once."""
    return kept(tmp_path_factory.mktemp("said"), *SAID)


@pytest.fixture
def review(inspected: Path, tmp_path: Path) -> Iterator[Review]:
    """A copy of it, open for reviewing; in the end its log is whole."""
    folder = shutil.copytree(inspected, tmp_path / "log")
    with at_the_bench(folder) as opened:
        yield opened
    report = verify(folder)
    assert report.ok, report.problems
    assert not [notice for notice in report.notices if "belongs to no line" in notice]


def last(review: Review) -> dict[str, Any]:
    """The newest line, without what changed."""
    return {
        name: value
        for name, value in review.facts[-1].body.items()
        if name not in ("changes", "graded", "heard", "reading")
    }


def test_a_slot_put_right(review: Review) -> None:
    """The line says who, what and why; the entry keeps how it stood."""
    done = review.correct("e2.1", {"side": "right"}, why="misread the label")
    assert (done.did, done.seq) == ("correct", review.facts[-1].seq)
    assert slots(review, "e2.1")["side"] == "right"
    assert last(review) == {"did": "correct", "by": "Sam", "why": "misread the label"}
    (was,) = review.finding("e2.1").history
    assert was.slots["side"] == "left"
    assert done.findings == (review.finding("e2.1"),)


def test_the_line_tells_the_grade_for_programs_without_rules(review: Review) -> None:
    """As an utterance does."""
    review.correct("e2.1", {"condition": "hole", "size_mm": 30.0})
    graded = review.facts[-1].body["graded"]["e2.1"]
    assert graded["grade"] == str(review.finding("e2.1").grade)


def test_the_history_names_all_that_touched_an_entry(review: Review) -> None:
    """What was said first, then who corrected it."""
    review.correct("e2.1", {"side": "right"})
    assert [(r.did, r.by) for r in review.revisions("e2.1")] == [("said", ""), ("correct", "Sam")]


def test_what_changes_nothing_is_not_written(review: Review) -> None:
    """No line for what the entry says already."""
    before = review.facts
    for deed in (
        lambda: review.correct("e2.1", {"side": "left"}),
        lambda: review.confirm("e2.1"),
        lambda: review.move(["e2.1"], {"side": "left"}),
        lambda: review.reread("e2.1", SAID[0]),
        lambda: review.reread("e2.1", SAID[0], clip=clip()),
    ):
        with pytest.raises(UsageFault, match="Nothing would change"):
            deed()
    assert review.facts == before


@pytest.mark.parametrize(
    ("wanted", "match"),
    [({"sidee": "left"}, "no slot"), ({"zone": "cellar"}, "no zone"), ({"side": "top"}, "no side"),
     ({"size_mm": 9e9}, "size_mm cannot be"), ({"condition": "tired"}, "no condition")],
)  # fmt: skip
def test_what_a_slot_cannot_hold_is_refused(
    review: Review, wanted: dict[str, Any], match: str
) -> None:
    """With what it can hold."""
    with pytest.raises(UsageFault, match=match) as caught:
        review.correct("e2.1", wanted)
    assert caught.value.hint


def test_several_entries_are_moved_at_once(review: Review) -> None:
    """One line, one step of undo; what is there already is passed over."""
    done = review.move(["e2.1", "e3.1", "e3.2"], {"zone": "kick-up", "side": "left"})
    assert [f.entry.id for f in done.findings] == ["e2.1", "e3.2"]
    assert {slots(review, name)["zone"] for name in ("e2.1", "e3.1", "e3.2")} == {"kick-up"}
    review.undo()
    assert (slots(review, "e2.1")["zone"], slots(review, "e3.2")["side"]) == ("sill", "right")


@pytest.mark.parametrize(
    ("entries", "place"),
    [
        (["e2.1"], {"zone": "kick-up", "size_mm": 3.0}),
        (["e2.1"], {"size_mm": 3.0}),
        (["e2.1"], {}),
        ([], {"zone": "kick-up"}),
    ],
)
def test_what_is_no_move_is_refused_whole(
    review: Review, entries: list[str], place: dict[str, Any]
) -> None:
    """A size beside the zone is not dropped in silence."""
    facts = review.facts
    with pytest.raises(UsageFault) as caught:
        review.move(entries, place)
    assert "zone, ordinal, side" in caught.value.hint
    assert review.facts == facts


@pytest.mark.parametrize(
    ("slots", "kind"),
    [
        ({"size_mm": 3.0}, Kind.PHOTO),
        ({"side": "right", "probe": "firm"}, Kind.NOT_SEEN),
        ({"vin": "1M8GDM9AXKP042788"}, None),
        ({"condition": "hole"}, Kind.CLEAR),
    ],
)
def test_what_an_entry_of_its_kind_cannot_have_is_refused(
    review: Review, slots: dict[str, Any], kind: Kind | None
) -> None:
    """It is not dropped in silence while the rest is done."""
    with pytest.raises(UsageFault, match="which has no"):
        review.correct("e2.1", slots, kind=kind)


def test_confirming_needs_an_answer_to_what_is_asked(review: Review) -> None:
    """Which rails was never said; a doubt without a question goes."""
    with pytest.raises(UsageFault, match="place is not known"):
        review.confirm("e4.1")
    review.split("e2.1")
    (doubtful,) = (f.entry.id for f in review.inspection().live if "split" in str(f.entry.doubts))
    review.confirm(doubtful)
    assert not review.finding(doubtful).entry.doubtful


def test_withdrawn_entries_stay_in_the_log_and_can_be_restored(review: Review) -> None:
    """Several at once; no other deed touches them meanwhile."""
    review.withdraw("e2.1", "e3.2")
    assert review.finding("e2.1").withdrawn
    for deed in (review.confirm, review.withdraw, review.split):
        with pytest.raises(UsageFault, match="was withdrawn"):
            deed("e2.1")
    review.restore("e3.2", "e2.1")
    assert not review.finding("e2.1").withdrawn
    with pytest.raises(UsageFault, match="holds again"):
        review.restore("e2.1")


def test_a_sentence_typed_anew(review: Review) -> None:
    """It takes the place of the entry; the words and the sound first heard stay where they were."""
    done = review.reread("e3.2", "right kick-up, hole, twenty millimetres, and a crack in the weld")
    now = review.finding("e3.2").entry
    assert (now.slots["condition"], now.slots["size_mm"], now.utterance) == ("hole", 20.0, "u3")
    assert done.findings[0].entry.id == "e3.2"
    assert review.utterance("e3.2").heard.text == SAID[1]
    assert review.facts[-1].body["heard"]["engine"] == "typed"


def test_words_that_only_correct_change_what_they_name(review: Review) -> None:
    """*Right side* is no new entry."""
    review.reread("e2.1", "correction, right side")
    assert slots(review, "e2.1") == {
        "zone": "sill", "side": "right", "condition": "surface-rust", "probe": "firm"
    }  # fmt: skip


@pytest.mark.parametrize("words", ["   ", "the kettle is on"])
def test_words_that_say_nothing_of_the_metal_are_refused(review: Review, words: str) -> None:
    """To take an entry out there is another deed."""
    with pytest.raises(UsageFault) as caught:
        review.reread("e2.1", words)
    assert caught.value.hint


def test_a_sentence_dictated_anew_keeps_its_sound(review: Review) -> None:
    """The clip is in the log with the line that names it, and the new entry plays it."""
    heard = Heard((Hypothesis("right sill, hole", -0.1),), "built-in")
    done = review.add(heard, clip=clip())
    entry = done.findings[0].entry
    assert entry.utterance == f"u{done.seq}"
    kept = review.utterance(entry.id).clip
    assert kept is not None
    assert kept.file == f"clips/u{done.seq}.flac"
    assert read_clip(review.folder, kept).pcm == clip().pcm
    again = review.reread("e2.1", heard, clip=clip())
    assert last(review)["clip"]["file"] == f"clips/u{again.seq}.flac"
    assert verify(review.folder).clips == 2


def test_no_sound_is_kept_of_what_is_refused(review: Review) -> None:
    """Words that change nothing, or soften without a reason, leave no file behind."""
    review.add("left front rail, crack")
    crack = review.facts[-1].body["changes"][0]["entry"]["id"]
    for entry, words in ((crack, "left front rail, surface rust"), ("e2.1", SAID[0])):
        with pytest.raises(UsageFault):
            review.reread(entry, words, clip=clip())
    assert not list(review.folder.glob("clips/*"))


def test_an_entry_forgotten_is_added(review: Review) -> None:
    """By itself, or at the place of another."""
    (new,) = review.add("right sill, hole, thirty millimetres").findings
    assert (new.entry.slots["side"], new.entry.id) == ("right", f"e{review.facts[-1].seq}.1")
    (near,) = review.add("hole", near="e3.2").findings
    assert (near.entry.slots["zone"], near.entry.slots["side"]) == ("kick-up", "right")


def test_an_entry_of_both_sides_is_split_into_one_for_each(review: Review) -> None:
    """Everything else stays the same."""
    review.correct("e4.1", {"zone": "mid-rail"})
    first, second = review.split("e4.1").findings
    assert (first.entry.id, first.entry.slots["side"]) == ("e4.1", "left")
    assert second.entry.slots == {**first.entry.slots, "side": "right"}


def test_an_entry_is_split_at_a_word(review: Review) -> None:
    """Each half is read by itself, the second at the place of the first; nothing of it is lost."""
    (hole,) = review.add("hole twenty millimetres", near="e5.1").findings
    review.merge("e5.1", hole.entry.id)
    text = review.finding("e5.1").entry.text
    done = review.split("e5.1", at_word=text.split().index("hole"))
    first, second = (finding.entry for finding in done.findings)
    assert (first.slots["condition"], second.slots["condition"]) == ("scale", "hole")
    assert (second.slots["zone"], second.slots["side"]) == ("cab-mount", "left")
    assert second.slots["size_mm"] == 20.0
    assert review.utterance(second.id).id == "u5"


@pytest.mark.parametrize("at_word", [0, 99, -1])
def test_it_is_not_split_where_no_word_is(review: Review, at_word: int) -> None:
    """The message shows its words."""
    with pytest.raises(UsageFault, match="cannot be split"):
        review.split("e2.1", at_word=at_word)


def test_any_other_entry_is_doubled_and_in_doubt(review: Review) -> None:
    """Until somebody says what differs."""
    (second,) = review.split("e2.1").findings
    assert second.entry.doubtful
    assert second.entry.slots == review.finding("e2.1").entry.slots
    review.correct(second.entry.id, {"face": "bottom"})
    assert not review.finding(second.entry.id).entry.doubtful


def test_merging_takes_the_other_in_and_keeps_the_worse_probe(review: Review) -> None:
    """The other is withdrawn; undo brings both back."""
    before = review.inspection()
    review.merge("e5.1", "e6.1")
    merged = review.finding("e5.1").entry
    assert (merged.slots["probe"], merged.slots["condition"]) == ("through", "hole")
    assert review.finding("e6.1").withdrawn
    review.undo()
    assert [f.entry for f in review.inspection().live] == [f.entry for f in before.live]


@pytest.mark.parametrize("other", ["e5.1", "e2.1", "e99.1"])
def test_what_does_not_belong_together_is_not_merged(review: Review, other: str) -> None:
    """With itself, with another place, with nothing."""
    with pytest.raises(UsageFault):
        review.merge("e5.1", other)


def test_listening_is_written_down_once_for_each_utterance(review: Review) -> None:
    """Both entries of one sentence were listened to."""
    count = len(review.facts)
    for name in ("e3.1", "e3.2", "e3.1"):
        review.listened(name)
    assert len(review.facts) == count + 1
    assert last(review) == {"utterance": "u3", "by": "Sam"}


def test_signing_needs_a_reason_while_something_is_open(review: Review) -> None:
    """What is touched later shows, and nothing else."""
    with pytest.raises(UsageFault, match="still open"):
        review.sign()
    signature = review.sign(why="no borescope here")
    assert (signature.by, signature.lines) == ("Sam", review.facts[-1].seq - 1)
    assert len(signature.open) == len(review.open_points())
    review.correct("e2.1", {"side": "right"})
    assert [review.after_signing(name) for name in ("e2.1", "e3.1")] == [True, False]
