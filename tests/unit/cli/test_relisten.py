"""``voicelog relisten`` as a person, a shell and a program see it."""

from __future__ import annotations

import json
import shlex
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from voicelog.cli.amend import amend
from voicelog.cli.main import cli
from voicelog.cli.relisten import relisten
from voicelog.config.settings import Settings
from voicelog.domain.heard import Heard, Hypothesis
from voicelog.domain.sound import SAMPLE_RATE, Clip
from voicelog.errors import EarFault, UsageFault
from voicelog.recognise.port import Expected
from voicelog.runtime.logs import open_log
from voicelog.runtime.opening import open_listening, open_reading

Hear = Callable[..., Path]


class Scripted:
    """An ear that hears one text after another."""

    engine, model = "second", "scripted"

    def __init__(self, texts: Iterable[str]) -> None:
        self.texts = list(texts)

    def expect(self, expected: Expected) -> None:
        """Whatever it is."""

    def feed(self, pcm: bytes) -> None:
        """Whatever it is."""

    def finish(self) -> Heard:
        """The next text."""
        return Heard((Hypothesis(self.texts.pop(0)),), self.engine, self.model)

    def close(self) -> None:
        """Nothing."""


@pytest.fixture
def hear(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hear:
    """A log of sentences that an ear heard; the tester's settings play no part."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))

    def make(*texts: str, name: str = "a log") -> Path:
        monkeypatch.setattr("voicelog.runtime.opening.open_the_ear", lambda *_: Scripted(texts))
        with open_listening(Settings(into=tmp_path / "logs")) as session:
            for number in range(len(texts)):
                pcm = b"\x00\x10\x00\xf0" * SAMPLE_RATE
                session.hear(Clip(pcm, 9.0 * number, 9.0 * number + 1.8))
            assert session.folder is not None
        return session.folder.rename(tmp_path / "logs" / name)

    return make


@pytest.fixture
def again(monkeypatch: pytest.MonkeyPatch) -> Callable[..., Result]:
    """The command, with an ear that hears these sentences."""

    def run(folder: Path, *texts: str, options: Iterable[str] = ("--alone",)) -> Result:
        monkeypatch.setattr(
            "voicelog.recognise.lookup.open_ear", lambda _name, **_more: Scripted(texts)
        )
        return CliRunner().invoke(relisten, [str(folder), *options], catch_exceptions=False)

    return run


def _take_over(told: Result) -> Result:
    """Run the command that the proposal names, as a shell would take it apart."""
    (line,) = (line for line in told.output.splitlines() if "take over:" in line)
    program, command, *rest = shlex.split(line.split("take over:")[1])
    assert (program, command) == ("voicelog", "amend")
    return CliRunner().invoke(amend, [*rest, "--by", "somebody"], catch_exceptions=False)


def test_a_proposal_shows_both_states_both_texts_and_the_grades(
    hear: Hear, again: Callable[..., Result]
) -> None:
    """And that nothing was changed."""
    folder = hear("left rear rail, surface rust")
    told = again(folder, "left rear rail, crack").output
    assert "1. e2.1, said in u2" in told
    assert "stands:     e2.1: left rear rail — surface rust" in told
    assert "would be:   e2.1: left rear rail — crack" in told
    assert "heard then: “left rear rail, surface rust”" in told
    assert "heard now:  “left rear rail, crack”" in told
    assert "cosmetic → unsafe" in told
    assert "1 of 1 utterances gone through again: 1 proposal, " in told
    assert told.endswith("Nothing was changed.\n")
    assert open_log(folder).inspection.findings[0].entry.slots["condition"] == "surface-rust"


@pytest.mark.parametrize(
    ("then", "now", "slots"),
    [
        ("left rail, scale", "right front rail, hole", {"side": "right", "condition": "hole"}),
        ("left sill, hole, 20 mm", "left sill, hole, 3/8 inch", {"size_mm": 9.525}),
        ("nice weather today", "right sill, hole", {"zone": "sill", "condition": "hole"}),
        ("right sill, hole, probe is firm", "right sill, hole", {"side": "right"}),
    ],
)
def test_the_command_takes_the_proposal_over(
    hear: Hear, again: Callable[..., Result], then: str, now: str, slots: dict[str, object]
) -> None:
    """As it is printed, quotes and all; afterwards nothing is left to propose."""
    folder = hear(then, name="it's a log; $(no more)")
    assert _take_over(again(folder, now)).exit_code == 0
    entry = open_log(folder).inspection.findings[0].entry
    assert {name: entry.slots.get(name) for name in slots} == slots
    assert "0 proposals" in again(folder, now).output


def test_the_command_for_a_new_entry_says_the_sentence_anew(
    hear: Hear, again: Callable[..., Result]
) -> None:
    """The entry that was there stays, the other one is added."""
    folder = hear("left sill, scale")
    assert _take_over(again(folder, "left sill, scale, and right sill, hole")).exit_code == 0
    live = open_log(folder).inspection.live
    assert [f.entry.slots["side"] for f in live] == ["left", "right"]


def test_a_new_entry_that_took_its_place_from_another_says_what_to_look_at(
    hear: Hear, again: Callable[..., Result]
) -> None:
    """The command has the sentence read by itself."""
    folder = hear("the weather is nice", "left sill, scale")
    told = again(folder, "left rear rail, crack", "left sill, scale")
    assert "put right with --set what it had from other sentences" not in told.output
    told = again(folder, "the weather is nice", "left sill, scale, and right sill, hole")
    assert "put right with --set what it had from other sentences" in told.output


def test_an_entry_added_at_the_bench_is_told_to_have_nothing_to_hear(
    hear: Hear, again: Callable[..., Result]
) -> None:
    """Rather than nought of one."""
    folder = hear("left front rail, surface rust")
    added = CliRunner().invoke(amend, [str(folder), "--add", "right sill, hole", "--json"])
    assert added.exit_code == 0
    name = json.loads(added.output)["entries"][0]["after"]["id"]
    told = again(folder, options=("--entry", name))
    assert "added at the bench is not listened to again" in told.output


def test_lowering_an_unsafe_is_told_and_needs_a_reason(
    hear: Hear, again: Callable[..., Result]
) -> None:
    """The printed command has none: it is for whoever listened."""
    told = again(hear("left rear rail, crack"), "left rear rail, surface rust")
    assert "LOWERS AN UNSAFE" in told.output
    assert "1 of them lowering an unsafe entry" in told.output
    with pytest.raises(UsageFault, match="reason|why"):
        _take_over(told)


def test_together_a_lone_contradiction_proposes_nothing(
    hear: Hear, again: Callable[..., Result]
) -> None:
    """By default both ears count."""
    folder = hear("left front rail, surface rust")
    assert "0 proposals" in again(folder, "the weather is nice today", options=()).output


def test_json_is_one_object_with_nothing_else(hear: Hear, again: Callable[..., Result]) -> None:
    """Entries as elsewhere, and the command."""
    folder = hear("left front rail, surface rust")
    told = json.loads(
        again(folder, "right front rail, surface rust", options=["--alone", "--json"]).stdout
    )
    (proposal,) = told["proposals"]
    assert (told["changed"], told["heard_again"]) == (False, 1)
    assert (proposal["was"]["side"], proposal["now"]["side"]) == ("left", "right")
    assert proposal["differs"] == ["side"]
    assert proposal["command"].endswith("--entry e2.1 --set side=right")


def test_hostile_text_is_shown_inert(hear: Hear, again: Callable[..., Result]) -> None:
    """Neither the folder's name nor what was heard can steer the terminal."""
    folder = hear("left front rail, surface rust", name="log \x1b[31m[bold]")
    told = again(folder, "right front rail \x1b[2J [red] surface rust").output
    assert "\x1b" not in told
    assert "[bold]" in told
    assert "[red]" in told


def test_what_could_not_be_heard_is_named(hear: Hear, again: Callable[..., Result]) -> None:
    """With why."""
    folder = hear("left front rail, surface rust", "left sill, scale")
    (folder / "clips" / "u3.flac").unlink()
    told = again(folder, "left front rail, surface rust").output
    assert "Clip missing or not what was kept (1): u3: " in told


def test_a_log_without_sound_is_only_read(tmp_path: Path, again: Callable[..., Result]) -> None:
    """Typed words have no clip."""
    with open_reading(Settings(into=tmp_path), keep=True) as session:
        session.read("left sill, scale", at_s=0)
        assert session.folder is not None
    assert "Without sound, read only: u2 (1)" in again(session.folder).output


def test_words_only_takes_no_ear(hear: Hear, again: Callable[..., Result]) -> None:
    """One or the other."""
    folder = hear("left front rail, surface rust")
    assert "0 proposals" in again(folder, options=["--words-only"]).output
    with pytest.raises(UsageFault, match="takes no --ear"):
        again(folder, options=["--words-only", "--ear", "second"])


def test_the_extra_that_is_missing_is_named(hear: Hear, monkeypatch: pytest.MonkeyPatch) -> None:
    """With the command that installs it."""
    folder = hear("left front rail, surface rust")
    monkeypatch.setattr("importlib.util.find_spec", lambda _name: None)
    with pytest.raises(EarFault, match=r'pip install "voicelog\[second-ear\]"'):
        CliRunner().invoke(relisten, [str(folder)], catch_exceptions=False)


def test_it_is_among_the_commands() -> None:
    """With its help."""
    assert "relisten" in CliRunner().invoke(cli, ["--help"]).output


def test_an_ear_by_name_is_opened_as_the_settings_say(
    hear: Hear, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """Without its corrections, and leaning otherwise, where somebody chose so."""
    asked: dict[str, Any] = {}

    def opened(name: str, **more: Any) -> Scripted:
        asked.update(more, name=name)
        return Scripted(["left sill, hole"])

    log = hear("left sill, hole")
    monkeypatch.setattr("voicelog.recognise.lookup.open_ear", opened)
    monkeypatch.setattr(
        "voicelog.cli.relisten.settings_from",
        lambda _flags: Settings(into=tmp_path, adapted=False, bias=0.2, beam=2),
    )
    told = CliRunner().invoke(relisten, [str(log), "--ear", "built-in"], catch_exceptions=False)
    assert told.exit_code == 0
    assert (asked["name"], asked["adapted"]) == ("built-in", False)
    assert (asked["bias"], asked["beam"]) == (0.2, 2)
