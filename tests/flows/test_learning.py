"""From a correction to the next inspection: the same words are understood."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from voicelog.config.cache import checked_grammar
from voicelog.config.learned import unlearn
from voicelog.config.settings import Settings
from voicelog.domain.lesson import Lesson
from voicelog.interpret.lessons import Lessons
from voicelog.journal.reading import read_log
from voicelog.journal.verify import verify
from voicelog.runtime.learning import Trial, remember, trial
from voicelog.runtime.logs import open_log
from voicelog.runtime.opening import open_reading

SAID = "left seal whole"
DAY = date(2026, 11, 25)


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    """A machine that has learned nothing yet."""
    return Settings(into=tmp_path / "logs", learned=tmp_path / "words", inspector="ann")


def _said(settings: Settings, *texts: str) -> Path:
    """A log of what was said, each a minute after the other."""
    with open_reading(settings, keep=True) as session:
        for number, text in enumerate(texts):
            session.read(text, at_s=60.0 * number)
        assert session.folder is not None
        return session.folder


def _zones(folder: Path) -> list[object]:
    """The places of the entries that stand."""
    return [finding.entry.slots.get("zone") for finding in open_log(folder).inspection.live]


def _tried(settings: Settings, folder: Path) -> list[Trial]:
    """The corrected sentence explained, and each lesson tried on its log."""
    opened = open_log(folder)
    grammar, after = opened.grammar, {"zone": "sill", "side": "left", "condition": "hole"}
    found = Lessons(grammar.vocabulary, grammar.zone_map).of_correction(
        SAID, {"side": "left"}, after
    )
    facts, seen = opened.log.facts, opened.inspection
    return [trial(one, settings, facts, grammar, inspection=seen, utterance="u2") for one in found]


def test_seal_for_sill_is_learned_and_whole_for_hole_refused(settings: Settings) -> None:
    """Nobody here says "seal" for anything else, though it is known to be misheard; "whole" is an
    everyday word, and only what stands around it can tell.
    """
    folder = _said(settings, SAID, "right seal whole")
    seal, whole = _tried(settings, folder)
    assert (seal.lesson.heard, seal.lesson.value, seal.refused) == ("seal", "sill", "")
    assert [change.line for change in seal.would_change] == [
        "“right seal whole”: right → right sill, hole"
    ]
    assert whole.refused == "people say “whole” in ordinary talk"


def test_the_next_inspection_understands_it_and_the_last_stays(settings: Settings) -> None:
    """A log is read with its own words; what is taken back is gone for the one after that."""
    before = _said(settings, SAID)
    seal, _ = _tried(settings, before)
    remember(seal, settings, for_="person", on=DAY, sentence=SAID)
    after = _said(settings, SAID)
    assert (_zones(before), _zones(after)) == ([], ["sill"])
    unlearn(settings, "seal")
    assert (_zones(_said(settings, SAID)), _zones(after)) == ([], ["sill"])


def test_a_lesson_that_would_break_a_right_reading_is_refused_with_it(settings: Settings) -> None:
    """The sentence stands as it was read; whoever knows better corrects it first."""
    folder = _said(settings, SAID, "left front rail, seal scale")
    seal, _ = _tried(settings, folder)
    assert seal.refused.startswith("“left front rail, seal scale” (u3) is rightly read as")


def test_the_ear_is_not_drawn_to_what_was_learned(settings: Settings) -> None:
    """A mishearing is understood, never a hint to make it again."""
    lesson = Lesson("seal", "zone", "sill", "sill", 0.9)
    remember(Trial(lesson), settings, for_="shop", on=DAY)
    grammar = checked_grammar(settings)
    assert "seal" not in grammar.vocabulary.telling()
    assert len(read_log(_said(settings, SAID)).facts) == 2


def test_a_log_tells_nobody_where_its_words_were_learned(settings: Settings) -> None:
    """Whoever is handed a log gets the words that it was read with, and no sentence or name of another
    inspection.
    """
    lesson = Lesson("seal", "zone", "sill", "sill", 0.9)
    told = "plate AB 12, left seal"
    remember(Trial(lesson), settings, for_="shop", on=DAY, by="Olga", sentence=told)
    remember(Trial(lesson), settings, for_="person", on=DAY, sentence=told)
    folder = _said(settings, SAID)
    copies = [*(folder / "grammar" / "overlays").iterdir()]
    assert sorted(path.name for path in copies) == [
        "001-learned-shop.toml", "002-learned-ann.toml",
    ]  # fmt: skip
    assert all('misheard = ["seal"]' in path.read_text() for path in copies)
    assert not any("Olga" in text or "plate" in text for text in map(Path.read_text, copies))
    assert verify(folder).ok
    assert _zones(folder) == ["sill"]
