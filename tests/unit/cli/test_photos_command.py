"""``voicelog photos``: shown first, written when somebody says so."""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from voicelog.cli.logs import verify
from voicelog.cli.main import cli
from voicelog.cli.photos import photos
from voicelog.config.grammar import load_grammar
from voicelog.config.settings import Settings
from voicelog.errors import InputFault, LockedFault, UsageFault
from voicelog.journal.journal import Journal
from voicelog.journal.reading import read_log
from voicelog.runtime.opening import open_reading

HOSTILE = "[red]\x1b[2J[link=x]\u202e.jpg"


@pytest.fixture(scope="module", autouse=True)
def loaded_once() -> Iterator[None]:
    """A log's own copy is the shipped grammar here."""
    shipped = load_grammar()
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("voicelog.runtime.bench_log.checked_folder", lambda *_, **__: shipped)
        yield


@pytest.fixture(scope="module")
def spoken(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A log with something unsafe, and a claim."""
    with open_reading(Settings(into=tmp_path_factory.mktemp("said")), keep=True) as session:
        session.read("left front rail, crack", at_s=0.0)
        session.read("take a photo of that", at_s=60.0)
        assert session.folder is not None
        return session.folder


@pytest.fixture
def log(spoken: Path, tmp_path: Path) -> Path:
    """A copy of it that may be written to."""
    return Path(shutil.copytree(spoken, tmp_path / "logs" / spoken.name))


@pytest.fixture
def folder(log: Path, tmp_path: Path, camera: Any) -> Path:
    """One picture of the claim, one of another year."""
    at = json.loads((log / "journal.jsonl").read_bytes().splitlines()[2])["changes"][0]["entry"][
        "at"
    ]
    taken = datetime.fromisoformat(at) + timedelta(seconds=3)
    (tmp_path / "pictures").mkdir()
    told = {"taken": f"{taken:%Y:%m:%d %H:%M:%S}", "offset": "+00:00", "place": True}
    (tmp_path / "pictures" / "IMG_1.jpg").write_bytes(camera.shoot(**told))
    (tmp_path / "pictures" / "old.jpg").write_bytes(camera.shoot(taken="2001:01:01 10:00:00"))
    return tmp_path / "pictures"


def call(*arguments: object, **more: Any) -> Result:
    """The command, as Sam gives it."""
    return CliRunner().invoke(photos, [*map(str, arguments), "--by", "Sam"], **more)


def written(log: Path) -> int:
    """How many lines tell of a picture."""
    return sum(fact.type == "photo" for fact in read_log(log).facts)


def test_the_matching_is_shown_and_nothing_is_written_unasked(log: Path, folder: Path) -> None:
    """Without a terminal nobody can be asked."""
    result = call(log, folder)
    assert isinstance(result.exception, UsageFault)
    assert "--yes" in str(result.exception)
    for told in ("IMG_1.jpg", "e3.1, e2.1", "left front rail", "95%", " s after"):
        assert told in result.output
    assert "Unmatched: 1" in result.output
    assert written(log) == 0
    assert not (log / "photos").exists()


def test_yes_writes_and_says_what_lacks_still(log: Path, folder: Path) -> None:
    """And verify counts the picture."""
    before = call(log)
    told = " ".join(before.output.split())
    assert "crack is unsafe, and a photo was announced, but none is matched" in told
    result = call(log, folder, "--yes")
    assert result.exit_code == 0, result.exception
    assert "Kept: 1" in result.output
    assert "crack is unsafe" not in result.output
    assert written(log) == 1
    assert ", 1 photo\n" in CliRunner().invoke(verify, [str(log)]).output
    again = call(log, folder, "--yes")
    assert "Already there: 1" in again.output
    assert written(log) == 1


def test_a_dry_run_writes_nothing(log: Path, folder: Path) -> None:
    """Even with --yes; and needs no lock."""
    with Journal.reopen(log):
        result = call(log, folder, "--dry-run", "--yes")
    assert result.exit_code == 0
    assert written(log) == 0


@pytest.mark.parametrize(("answer", "lines"), [("y\n", 1), ("n\n", 0), ("\n", 0)])
def test_at_a_terminal_it_asks(
    answer: str, lines: int, log: Path, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Only a yes writes; a no is no mistake."""
    monkeypatch.setattr("voicelog.cli.photos._is_asked", lambda _: True)
    result = call(log, folder, input=answer)
    assert result.exit_code == 0
    assert "Copy this picture into the log?" in result.output
    assert written(log) == lines


def test_json_tells_all_of_it(log: Path, folder: Path) -> None:
    """Before and after writing; the same for a log without a folder."""
    told = json.loads(call(log, folder, "--dry-run", "--json").output)
    [one] = told["matched"]
    assert (one["picture"], one["entries"], one["confidence"]) == (
        "IMG_1.jpg",
        ["e3.1", "e2.1"],
        0.95,
    )
    assert told["written"] == told["photos"] == []
    assert told["unmatched"][0]["picture"] == "old.jpg"
    told = json.loads(call(log, folder, "--yes", "--json").stdout)
    assert told["written"] == [told["photos"][0]["file"]]
    alone = json.loads(call(log, "--json").output)
    assert alone["photos"] == told["photos"]
    assert {lack["what"] for lack in alone["lacking"]} == {"cavity"}


def test_a_picture_is_moved(log: Path, folder: Path) -> None:
    """By its short name; a trial leaves it."""
    call(log, folder, "--yes")
    assert "(not written)" in call(log, "--move", "p4=e2.1", "--dry-run").output
    assert "p4 shows e2.1, left front rail" in call(log, "--move", "p4=e2.1").output
    assert "p4  e2.1  100%" in call(log).output
    assert written(log) == 2


def test_hostile_names_are_shown_inert(log: Path, folder: Path) -> None:
    """No control sequence, no markup, in a wide and in a narrow window."""
    (folder / "IMG_1.jpg").rename(folder / HOSTILE)
    for width in ("80", "160"):
        result = call(log, folder, "--dry-run", env={"COLUMNS": width})
        assert "[red]?[2J[link=x]?.jpg" in result.output.replace("\n", "")
        assert "\x1b" not in result.output
        assert "\u202e" not in result.output


@pytest.mark.parametrize("width", ["40", "80", "109", "110", "200"])
def test_every_width_shows_the_whole_matching(width: str, log: Path, folder: Path) -> None:
    """Nothing is cut off."""
    output = call(log, folder, "--dry-run", env={"COLUMNS": width}).output
    told = " ".join(output.split())
    for part in ("IMG_1.jpg", "95%", "(e3.1)"):
        assert part in told


def test_a_locked_log_is_told_before_anything_is_read(log: Path, folder: Path) -> None:
    """Another program writes it."""
    with Journal.reopen(log):
        assert isinstance(call(log, folder, "--yes").exception, LockedFault)


@pytest.mark.parametrize("arguments", [("nowhere",), ()])
def test_what_is_not_there_is_told(arguments: tuple[str, ...], log: Path, tmp_path: Path) -> None:
    """A folder of pictures, a log."""
    given = (log, tmp_path / arguments[0]) if arguments else (tmp_path / "no-log",)
    assert isinstance(call(*given).exception, InputFault)


def test_the_command_is_listed() -> None:
    """Beside the others."""
    assert "photos" in CliRunner().invoke(cli, ["--help"]).output


def test_pictures_are_not_kept_while_the_clock_may_be_off(
    tmp_path: Path, folder: Path, camera: Any
) -> None:
    """Taken as they are, nearly all of them would be evidence for something else."""
    moments = (0, 60, 150, 300, 500, 600)
    with open_reading(Settings(into=tmp_path / "more"), keep=True) as session:
        for n, at_s in enumerate(moments):
            session.read(f"{('left', 'right')[n % 2]} front rail, take a photo", at_s=float(at_s))
        assert session.folder is not None
        more = session.folder
    said = [fact.body["changes"][0]["entry"]["at"] for fact in read_log(more).facts[1:7]]
    for n, at in enumerate(said):
        taken = datetime.fromisoformat(at) + timedelta(seconds=155 + n % 3)
        shot = camera.shoot(
            seed=n, taken=f"{taken:%Y:%m:%d %H:%M:%S}", offset=f"{taken:%z}"[:3] + ":00"
        )
        (folder / f"{n}.jpg").write_bytes(shot)
    (folder / "IMG_1.jpg").unlink()
    result = call(more, folder, "--yes")
    assert isinstance(result.exception, UsageFault)
    assert "clock may be off" in str(result.exception)
    assert written(more) == 0
    assert call(more, folder, "--yes", "--clock-difference=+2m30s").exit_code == 0
    assert written(more) == len(moments)
