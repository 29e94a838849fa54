"""Any deeds in any order: all can be taken back, done again, and read back from the disk."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from voicelog.config.grammar import Grammar, load_grammar
from voicelog.config.settings import Settings
from voicelog.domain.entry import Entry, Inspection, Kind
from voicelog.domain.grade import Grade
from voicelog.errors import UsageFault
from voicelog.findings.ledger import fold
from voicelog.interpret.reader import Reader
from voicelog.journal.reading import verify
from voicelog.runtime.opening import open_reading
from voicelog.runtime.review import Review

SAID = (
    "left front rail, crack",
    "hole on the left sill, scale on the right",
    "both rails scale",
    "cab mount, left side, light pitting",
    "another one, scraper went through it",
)
WHY = "looked at again"
Deed = Callable[[Review, str, str, str], Any]


def doing(name: str, *given: Any, **named: Any) -> Deed:
    """A deed on the first of two entries."""
    return lambda review, one, _, why: getattr(review, name)(one, *given, why=why, **named)


DEEDS: dict[str, Deed] = {
    "side": doing("correct", {"side": "right"}),
    "zone": doing("correct", {"zone": "front-cross-member"}),
    "hole": doing("correct", {"condition": "hole", "size_mm": 20.0}),
    "pitting": doing("correct", {"condition": "pitting"}),
    "light": doing("reread", "left sill, light pitting"),
    "take": doing("take"),
    "drop": doing("correct", {}, drop=("side", "size_mm")),
    "clear": doing("correct", {}, kind=Kind.CLEAR),
    "not seen": doing("correct", {}, kind=Kind.NOT_SEEN, reason="mud"),
    "confirm": doing("confirm"),
    "withdraw": doing("withdraw"),
    "restore": doing("restore"),
    "reread": doing("reread", "right kick-up, hole, and a crack in the weld"),
    "split": doing("split"),
    "merge": lambda review, one, other, why: review.merge(one, other, why=why),
    "move": lambda review, one, other, why: review.move([one, other], {"zone": "sill"}, why=why),
    "add": lambda review, one, _, why: review.add("hole, 30 mil", near=one, why=why),
    "undo": lambda review, _, __, why: review.undo(why=why),
    "redo": lambda review, _, __, why: review.redo(why=why),
}
STEPS = st.lists(
    st.tuples(st.sampled_from(tuple(DEEDS)), st.integers(0, 30), st.integers(0, 30)), max_size=12
)


@pytest.fixture(scope="module")
def grammar() -> Grammar:
    """The shipped one, loaded once."""
    return load_grammar()


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The log of that inspection."""
    with open_reading(Settings(into=tmp_path_factory.mktemp("said")), keep=True) as session:
        for number, text in enumerate(SAID):
            session.read(text, at_s=float(number))
        assert session.folder is not None
        return session.folder


@pytest.fixture(scope="module", autouse=True)
def made_once(grammar: Grammar) -> Iterator[None]:
    """One grammar and one reader for all examples; neither ever changes."""
    reader = Reader(grammar.vocabulary, grammar.zone_map)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("voicelog.runtime.bench_log.checked_folder", lambda *_, **__: grammar)
        patch.setattr("voicelog.runtime.rereading.Reader", lambda *_, **__: reader)
        yield


@contextmanager
def copied(folder: Path) -> Iterator[Path]:
    """A log of one example's own."""
    with tempfile.TemporaryDirectory() as parent:
        yield shutil.copytree(folder, Path(parent) / "log")


def play(review: Review, steps: Sequence[tuple[str, int, int]], why: str = WHY) -> int:
    """Do what can be done; how many deeds can be undone then."""
    for name, one, other in steps:
        ids = [finding.entry.id for finding in review.inspection().findings]
        try:
            DEEDS[name](review, ids[one % len(ids)], ids[other % len(ids)], why)
        except UsageFault:
            continue
    return len(review._log.stacks.done)


def holding(inspection: Inspection) -> dict[str, tuple[Entry, Grade | None, tuple[str, ...]]]:
    """What holds and how it is graded, by id."""
    return {f.entry.id: (f.entry, f.grade, f.rules) for f in inspection.live}


@given(steps=STEPS)
@settings(max_examples=25, deadline=None)
def test_as_many_undos_bring_everything_back_and_redos_forward(
    steps: list[tuple[str, int, int]], folder: Path
) -> None:
    """Every entry, as it was said; then every entry, as it stood; on another day as well."""
    with copied(folder) as log:
        with Review.open(log, Settings(), by="Sam") as review:
            said = holding(review.inspection())
            deeds = play(review, steps)
            stood = holding(review.inspection())
        with Review.open(log, Settings(), by="Kim") as review:
            for _ in range(deeds):
                review.undo(why=WHY)
            assert review.can_undo == ""
            assert holding(review.inspection()) == said
            for _ in range(deeds):
                review.redo(why=WHY)
            assert holding(review.inspection()) == stood


@given(steps=STEPS)
@settings(max_examples=25, deadline=None)
def test_the_log_read_back_is_what_was_seen(
    steps: list[tuple[str, int, int]], folder: Path, grammar: Grammar
) -> None:
    """By any reader; the log is whole, and nothing that was said is gone from it."""
    with copied(folder) as log:
        said = (log / "journal.jsonl").read_bytes()
        with Review.open(log, Settings(), by="Sam") as review:
            play(review, steps)
            seen, facts = review.inspection(), review.facts
            assert fold(facts, grammar.zone_map, grammar.rules, review.rails) == seen
        with Review.open(log, Settings(), by="Sam") as again:
            assert (again.facts, again.inspection()) == (facts, seen)
        assert (log / "journal.jsonl").read_bytes().startswith(said)
        assert verify(log).problems == ()


@given(steps=STEPS)
@settings(max_examples=25, deadline=None)
def test_nothing_unsafe_is_lost_without_a_reason(
    steps: list[tuple[str, int, int]], folder: Path
) -> None:
    """Whatever is done: who gives no reason leaves it, or merges it into what is unsafe then."""
    with copied(folder) as log, Review.open(log, Settings(), by="Sam") as review:
        assert review.finding("e2.1").grade is Grade.UNSAFE
        play(review, steps, why="")
        assert any(finding.grade is Grade.UNSAFE for finding in review.inspection().live)
