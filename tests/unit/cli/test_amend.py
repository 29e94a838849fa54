"""``voicelog amend``: how entries are named, and what is refused."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from voicelog.cli.amend import amend
from voicelog.cli.deeds import DEEDS, deed_asked, entries_meant
from voicelog.config.grammar import load_grammar
from voicelog.config.settings import Settings
from voicelog.domain.entry import Entry, Finding, Kind
from voicelog.domain.heard import Heard, Hypothesis
from voicelog.domain.slot import SLOTS
from voicelog.domain.sound import Clip
from voicelog.errors import StorageFault, UsageFault
from voicelog.interpret.slot_words import short_name
from voicelog.journal.reading import read_log
from voicelog.recognise.typed_engine import TypedEar
from voicelog.runtime.opening import open_reading

AT = "2026-03-14T08:05:30.000Z"


def finding(
    name: str, kind: Kind = Kind.FINDING, *, zone: str = "sill", gone: bool = False
) -> Finding:
    """An entry as it stands."""
    slots = {"zone": zone} if zone else {}
    return Finding(Entry(name, "u2", AT, kind, slots), withdrawn=gone)


LOG = (
    finding("e2.1"),
    finding("e3.1", gone=True),
    finding("e4.1", Kind.REMARK, zone=""),
    finding("e4.2", Kind.CLEAR),
    finding("e5.1", gone=True),
    finding("e6.1"),
)


@pytest.mark.parametrize(
    ("texts", "names"),
    [
        (["e6.1", "e2.1", "e6.1"], ("e6.1", "e2.1")),
        (["e2.1..e6.1"], ("e2.1", "e4.2", "e6.1")),
        (["e3.1 .. e4.2"], ("e4.2",)),
        (["e4.2..e4.2", "e2.1..e4.2"], ("e4.2", "e2.1")),
        (["e99.1"], ("e99.1",)),
        ([], ()),
    ],
)
def test_entries_are_named_by_id_or_as_a_range(texts: list[str], names: tuple[str, ...]) -> None:
    """Each once; a range means what holds and says something of the metal."""
    assert entries_meant(texts, LOG) == names


def test_what_was_withdrawn_is_meant_where_it_is_to_be_restored() -> None:
    """A range of a restoration holds nothing else."""
    assert entries_meant(["e2.1..e6.1"], LOG, withdrawn=True) == ("e3.1", "e5.1")


@pytest.mark.parametrize(
    ("text", "missing"), [("e6.1..e2.1", "e2.1"), ("e9.1..e6.1", "e9.1"), ("e2.1..", "has no  at")]
)
def test_a_range_needs_two_ends_in_order(text: str, missing: str) -> None:
    """The end that is not there is named."""
    with pytest.raises(UsageFault, match=missing):
        entries_meant([text], LOG)


def test_every_deed_is_an_option_of_the_command() -> None:
    """None that cannot be typed, none typed that does nothing."""
    options = {option for param in amend.params for option in param.opts}
    assert {deed.option for deed in DEEDS.values()} <= options


def test_an_option_without_a_value_is_given_all_the_same() -> None:
    """``--split`` alone is 0."""
    deed, value = deed_asked({"split": 0, "slots": (), "undo": False, "say": None})
    assert (deed.option, value) == ("--split", 0)


@pytest.fixture(scope="module")
def log(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Three entries: e2.1, e3.1 and e3.2."""
    with open_reading(Settings(into=tmp_path_factory.mktemp("said")), keep=True) as session:
        session.read("left sill, surface rust, metal is firm", at_s=0.0)
        session.read("hole on the left kick-up, scale on the right", at_s=1.0)
        assert session.folder is not None
        return session.folder


@pytest.fixture(scope="module", autouse=True)
def loaded_once() -> Iterator[None]:
    """A log's own copy is the shipped grammar here."""
    shipped = load_grammar()
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("voicelog.runtime.bench_log.checked_folder", lambda *_, **__: shipped)
        yield


@pytest.fixture
def misheard(tmp_path: Path) -> Path:
    """A log in which an ear took *sill* for another word, and the place was lost."""
    with open_reading(Settings(into=tmp_path / "logs"), keep=True) as session:
        session.ear = TypedEar()
        clip = Clip(bytes(range(250)) * 64, start_s=0.0, speech_end_s=0.4)
        session.hear(clip, heard=Heard((Hypothesis("left rear rail, seal, scale"),), "built-in"))
        assert session.folder is not None
        return session.folder


def call(log: Path, *arguments: str) -> Result:
    """Amend the log."""
    return CliRunner().invoke(amend, [str(log), "--by", "Sam", *arguments])


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        ((), "Nothing is asked for"),
        (("--undo", "--redo"), "--undo and --redo"),
        (("--set", "side=left"), "--set needs an entry"),
        (("--entry", "e2.1", "--entry", "e3.1", "--confirm"), "--confirm takes one entry"),
        (("--entry", "e2.1", "--undo"), "--undo takes no entry"),
        (("--entry", "e99.1", "--confirm"), "no entry 'e99.1'"),
        (("--entry", "e3.1..e2.1", "--withdraw"), "has no e2.1 at its place"),
        (("--entry", "e2.1..e3.1", "--restore"), "holds no entry"),
        (("--entry", "e2.1", "--set", "side=lefft"), "left"),
        (("--entry", "e2.1", "--set", "sidee=left"), "side"),
        (("--entry", "e2.1", "--set", "size=9 km"), "size"),
        (("--entry", "e2.1", "--move", "kind=clear"), "--move takes"),
        (("--entry", "e2.1", "--runner-up"), "no other reading"),
        (("--entry", "e2.1", "--runner-up", "3"), "no other reading"),
        (("--entry", "e2.1", "--split", "99"), "cannot be split"),
        (("--entry", "e2.1", "--set", "side=left"), "Nothing would change"),
        (("--undo",), "nothing to undo"),
        (("--undo", "--learn", "shop"), "Nothing can be learned from --undo"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, tuple) else "",
)
def test_what_cannot_be_done(log: Path, arguments: tuple[str, ...], told: str) -> None:
    """A fault of use that says what is wrong; nothing is printed, nothing written."""
    before = (log / "journal.jsonl").read_bytes()
    done = call(log, *arguments)
    assert isinstance(done.exception, UsageFault), done.output
    assert told in str(done.exception)
    assert done.output == ""
    assert (log / "journal.jsonl").read_bytes() == before


def test_a_lesson_that_cannot_be_written_leaves_the_change(
    misheard: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What was done is told first; the fault is that of the vocabulary's file."""

    def refuse(*_: object, **__: object) -> Path:
        raise StorageFault("The vocabulary could not be written")

    monkeypatch.setattr("voicelog.runtime.teaching.remember", refuse)
    done = call(misheard, "--entry", "e2.1", "--set", "zone=sill", "--learn", "shop")
    assert isinstance(done.exception, StorageFault)
    assert "now:  changed e2.1: left sill" in done.output
    assert "Not learned, “seal” is sill" in done.output
    assert [fact.type for fact in read_log(misheard).facts][-1] == "revised"


def test_nothing_is_learned_of_what_was_typed(log: Path) -> None:
    """Nobody misheard it."""
    done = call(log, "--entry", "e2.1", "--set", "zone=kick-up", "--learn", "person", "--dry-run")
    assert "Nothing to learn" in done.output


def test_the_help_names_every_slot() -> None:
    """Who cannot see the screen has no picker to read them from."""
    told = " ".join(CliRunner().invoke(amend, ["--help"]).output.split())
    named = told.partition("Slots: ")[2].partition(" --set takes")[0]
    assert sorted(re.findall(r"[a-z_]+(?=[,;.]| \()", named)) == sorted(map(short_name, SLOTS))
