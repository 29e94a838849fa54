"""``voicelog export`` as a person, a shell and a program see it."""

from __future__ import annotations

import csv
import errno
import io
import json
import sys
from collections.abc import Callable
from pathlib import Path

import pypdfium2
import pytest
import soundfile
import webvtt
from click.testing import CliRunner, Result

from voicelog.cli.export import export
from voicelog.cli.main import cli
from voicelog.config.settings import Settings
from voicelog.domain.heard import Heard, Hypothesis
from voicelog.domain.sound import SAMPLE_RATE, Clip
from voicelog.errors import InputFault, StorageFault, UsageFault, VoicelogError
from voicelog.recognise.port import Expected
from voicelog.runtime.exports import FORMS
from voicelog.runtime.opening import open_listening

Run = Callable[..., Result]


class Scripted:
    """An ear that hears the same sentence again and again."""

    engine, model = "built-in", "scripted"

    def expect(self, expected: Expected) -> None:
        """Whatever it is."""

    def feed(self, pcm: bytes) -> None:
        """Whatever it is."""

    def finish(self) -> Heard:
        """The sentence."""
        return Heard((Hypothesis("left front rail, hole"),), self.engine, self.model)

    def close(self) -> None:
        """Nothing."""


@pytest.fixture
def log(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A log of one sentence; the tester's settings play no part."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("voicelog.runtime.opening.open_the_ear", lambda *_: Scripted())
    with open_listening(Settings(into=tmp_path / "logs")) as session:
        session.hear(Clip(b"\x00\x10\x00\xf0" * SAMPLE_RATE, 3.0, 4.8))
        assert session.folder is not None
    return session.folder


@pytest.fixture
def run(log: Path) -> Run:
    """The command on that log; faults come as they are raised."""

    def call(*options: str) -> Result:
        return CliRunner().invoke(export, [str(log), *options], catch_exceptions=False)

    return call


def test_without_a_word_it_is_json_on_standard_output(run: Run) -> None:
    """As it always was, and nothing else there."""
    assert json.loads(run().stdout)["entries"][0]["condition"] == "hole"


@pytest.mark.parametrize(
    ("name", "begins"),
    [
        ("x.json", b"{"), ("x.csv", b'\xef\xbb\xbf"entry","at"'), ("x.html", b"<!"), ("x.HTM", b"<!"),
        ("x.pdf", b"%PDF"), ("x.vtt", b"WEBVTT"), ("x", b"{"),
    ],
)  # fmt: skip
def test_the_ending_of_the_file_tells_the_form(run: Run, name: str, begins: bytes) -> None:
    """Whatever its case; without an ending it is JSON."""
    told = run("-o", name)
    assert told.stdout.startswith(f"Wrote {name}")
    assert Path(name).read_bytes().lower().startswith(begins.lower())


def test_a_hyphen_is_standard_output(run: Run) -> None:
    """As everywhere else; no file of that name is left behind."""
    assert run("-o", "-", "--to", "csv").stdout == run("--to", "csv").stdout
    assert not Path("-").exists()


def test_a_log_is_not_written_over(run: Run, log: Path) -> None:
    """Neither this nor another: what was said is in there; a report may lie beside it."""
    (log / "photos").mkdir()
    parts = ("journal.jsonl", "clips/u2.vtt", "photos/p1.vtt", "grammar/rules/frame.toml", "lock")
    for part in parts:
        before = [(path, path.read_bytes()) for path in log.rglob("*") if path.is_file()]
        for form in ("json", "vtt"):
            with pytest.raises(UsageFault, match="part of the log"):
                run("--to", form, "-o", str(log / part))
        assert [(path, path.read_bytes()) for path in log.rglob("*") if path.is_file()] == before
    assert run("-o", str(log / "report.html")).exit_code == 0


def test_a_full_disk_behind_standard_output_is_told(
    run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    """In one line, as for a file."""

    def refuse(*_: object, **__: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr("voicelog.cli.export.click.echo", refuse)
    with pytest.raises(StorageFault, match="No space left"):
        run("--to", "csv")


def test_a_form_that_is_named_counts_more_than_the_ending(run: Run) -> None:
    """``notes.txt`` may be a table."""
    run("--to", "csv", "-o", "notes.txt")
    assert b'"entry"' in Path("notes.txt").read_bytes()


def test_an_ending_that_is_no_form_is_asked_about(run: Run) -> None:
    """Nothing is written under a guess."""
    with pytest.raises(UsageFault, match=r"'.docx'.*--to"):
        run("-o", "x.docx")
    assert not Path("x.docx").exists()


def test_a_pdf_goes_into_a_pipe(run: Run) -> None:
    """Byte for byte."""
    assert len(pypdfium2.PdfDocument(run("--to", "pdf").stdout_bytes)) >= 2


def test_a_pdf_does_not_go_into_a_terminal(log: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """It would only fill it with signs."""
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True)
    with pytest.raises(UsageFault, match="-o"):
        export.callback(str(log), None, "pdf", None, None, (), None, False)  # type: ignore[misc]


def test_the_paper_can_be_letter(run: Run) -> None:
    """8.5 by 11 inches, in points."""
    run("-o", "x.pdf", "--paper", "letter")
    assert pypdfium2.PdfDocument("x.pdf")[0].get_size() == (612, 792)


def test_words_and_sound_lie_side_by_side(run: Run) -> None:
    """Unless the sound is not wanted."""
    assert run("-o", "walk.vtt").stdout == "Wrote walk.vtt and walk.flac\n"
    assert soundfile.info("walk.flac").frames == 2 * SAMPLE_RATE
    assert webvtt.read("walk.vtt").captions[0].start == "00:00:00.000"
    Path("walk.flac").unlink()
    assert run("-o", "walk.vtt", "--no-audio").stdout == "Wrote walk.vtt\n"
    assert webvtt.read("walk.vtt").captions[0].start == "00:00:03.000"
    assert not Path("walk.flac").exists()


def test_a_recording_beside_it_is_not_written_over(run: Run) -> None:
    """Nor are the words written then."""
    Path("walk.flac").write_bytes(b"somebody's own")
    with pytest.raises(StorageFault, match="walk.flac"):
        run("-o", "walk.vtt")
    assert not Path("walk.vtt").exists()
    assert Path("walk.flac").read_bytes() == b"somebody's own"


def test_missing_sound_is_told_on_standard_error(run: Run, log: Path) -> None:
    """The words are there all the same."""
    (log / "clips" / "u2.flac").unlink()
    told = run("-o", "walk.vtt")
    assert "no sound was kept" in told.stdout
    assert told.stderr.startswith("  without u2: clips/u2.flac")


@pytest.mark.parametrize("form", FORMS)
def test_a_file_is_replaced_and_a_missing_folder_is_a_clear_fault(run: Run, form: str) -> None:
    """No scraps are left either way."""
    target = Path(f"x.{form}")
    target.write_text("old")
    run("-o", str(target), *(["--no-audio"] if form == "vtt" else []))
    assert target.read_bytes() != b"old"
    for refused in (f"none/x.{form}", f"{'x' * 300}.{form}"):
        with pytest.raises(StorageFault, match="could not be written"):
            run("-o", refused)
    assert not [path.name for path in Path().iterdir() if path.name.startswith(".voicelog")]


@pytest.mark.parametrize(
    "options",
    [
        ("--to", "csv", "--paper", "a4"), ("--to", "html", "--paper", "a4"),
        ("--to", "json", "--since", "x"), ("--to", "vtt", "--region", "uk"), ("--no-audio",),
    ],
)  # fmt: skip
def test_a_flag_that_would_do_nothing_is_refused(run: Run, options: tuple[str, ...]) -> None:
    """And the message says what it is for."""
    with pytest.raises(UsageFault, match="does nothing to .* It is for"):
        run(*options)


def test_a_region_points_at_its_rules(run: Run) -> None:
    """In the report, behind page one."""
    run("-o", "uk.html", "--region", "uk")
    run("-o", "none.html")
    assert "MOT" in Path("uk.html").read_text(encoding="utf-8")
    assert len(Path("uk.html").read_bytes()) > len(Path("none.html").read_bytes())


def test_the_newest_log_is_last(run: Run, log: Path) -> None:
    """In the folder that --into names."""
    told = CliRunner().invoke(export, ["last", "--into", str(log.parent)], catch_exceptions=False)
    assert told.stdout == run().stdout


def test_no_such_log_is_an_input_fault(tmp_path: Path) -> None:
    """Nothing is made then."""
    with pytest.raises(InputFault):
        CliRunner().invoke(
            export, [str(tmp_path / "none"), "-o", str(tmp_path / "x.csv")], catch_exceptions=False
        )
    assert not (tmp_path / "x.csv").exists()


def test_without_typst_the_message_names_the_extra(
    run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    """And leaves an earlier file alone."""
    Path("x.pdf").write_text("old")
    monkeypatch.setitem(sys.modules, "typst", None)
    with pytest.raises(VoicelogError, match=r"voicelog\[report\]"):
        run("-o", "x.pdf")
    assert Path("x.pdf").read_text() == "old"


def test_a_table_on_standard_output_is_bare(run: Run) -> None:
    """No mark in front, lines end in CR LF: what a program expects."""
    data = run("--to", "csv").stdout_bytes
    assert data.startswith(b'"entry"')
    assert data.count(b"\r\n") == 2
    assert next(csv.DictReader(io.StringIO(data.decode(), newline="")))["condition"] == "hole"


def test_help_teaches_by_examples() -> None:
    """One for each form."""
    told = CliRunner().invoke(cli, ["export", "--help"]).output
    for name in ("pickup.pdf", "pickup.html", "pickup.csv", "walk.vtt", "--to json", "--since"):
        assert name in told
