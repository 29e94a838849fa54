"""A second ear in recordings: heard before anything is written, and kept beside the first."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest
from second_ears import Fake, heard

from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.domain.heard import Heard
from voicelog.domain.sound import Clip
from voicelog.export.contract import faults
from voicelog.journal.journal import Journal
from voicelog.journal.reading import read_log, verify
from voicelog.recognise.typed_engine import TypedEar
from voicelog.runtime.logs import open_log
from voicelog.runtime.opening import second_ear
from voicelog.runtime.relisten import relisten
from voicelog.runtime.session import Session

CLIP = Clip(bytes(3200), 0.0, 0.1)


def _log(grammar: Grammar, parent: Path, second: Fake, *said: str) -> tuple[Path, list[str]]:
    """The log of a recording, and what was told of the second ear."""
    opened = {"map": "ladder-frame", "rails": "mixed", "ear": "typed", "settings": {}}
    journal, told = Journal.create(parent, opened=opened, grammar=grammar.files), []
    with Session(
        Settings(), grammar, journal=journal, ear=TypedEar(), second=second, told=told.append
    ) as session:
        for number, text in enumerate(said):
            session.hear(CLIP, offset_s=5.0 * number, heard=heard(text, "built-in"))
        assert open_log(journal.folder).inspection == session.inspection()
    return journal.folder, told


def test_the_entry_is_what_both_heard(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """The line keeps what each of them heard, and verdict and reason."""
    second = Fake(["right sill, surface rust"])
    log, _ = _log(shipped_grammar, tmp_path, second, "left sill sir rust")
    (said,) = [fact for fact in read_log(log).facts if fact.type == "utterance"]
    assert said.body["heard"]["hypotheses"][0]["text"] == "left sill sir rust"
    assert said.body["second"]["heard"]["hypotheses"][0]["text"] == "right sill, surface rust"
    assert (said.body["second"]["reason"], said.body["second"]["verdict"]) == (
        "doubtful",
        "differs",
    )
    assert said.body["changes"][0]["entry"]["slots"]["side"] == "right"
    assert verify(log).ok
    assert second.closed == 1
    for line in (log / "journal.jsonl").read_text("utf-8").splitlines():
        assert not faults(json.loads(line), "fact")


def test_only_what_is_unsure_is_heard_twice(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """And nothing that is said while standing by."""
    second = Fake([])
    said = ("left sill, surface rust", "stand by", "right control arm mount, hole, it gives")
    _log(shipped_grammar, tmp_path, second, *said)
    assert second.clips == []


def test_a_crash_is_told_once(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """The rest is heard with one ear."""
    second = Fake([None])
    log, told = _log(shipped_grammar, tmp_path, second, "left sill sir rust", "left floor sir rust")
    assert len(told) == 1
    verdicts = [f.body.get("second", {}).get("verdict") for f in read_log(log).facts[1:]]
    assert verdicts == ["failed", None]
    assert len(second.clips) == 1


def test_listening_again_starts_from_what_both_heard(
    shipped_grammar: Grammar, tmp_path: Path
) -> None:
    """An ear that hears what was read proposes nothing."""

    class Again(TypedEar):
        def finish(self) -> Heard:
            return heard("right sill, surface rust")

        def feed(self, pcm: bytes) -> None:
            """Any sound."""

    log, _ = _log(
        shipped_grammar, tmp_path, Fake(["right sill, surface rust"]), "left sill sir rust"
    )
    told = relisten(log, Settings(), ear=lambda _phrases: Again())
    assert (told.looked_at, told.proposals) == (1, ())


@pytest.mark.parametrize(
    ("settings", "used"),
    [
        (Settings(), True),
        (Settings(second_ear="off"), False),
        (Settings(ear="second"), False),
        (Settings(grammar=Path("de")), False),
    ],
)
def test_it_is_used_where_it_is_installed(
    shipped_grammar: Grammar, monkeypatch: pytest.MonkeyPatch, settings: Settings, used: bool
) -> None:
    """Unless it is switched off, hears already, or another language may be spoken."""
    monkeypatch.setattr("voicelog.recognise.lookup.has_second_ear", lambda: True)
    assert (second_ear(settings, shipped_grammar) is not None) is used
    monkeypatch.setattr("voicelog.recognise.lookup.has_second_ear", lambda: False)
    assert second_ear(replace(settings), shipped_grammar) is None
