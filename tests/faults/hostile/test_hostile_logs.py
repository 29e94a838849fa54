"""A log from somebody who means harm, opened by every command: a part of what ``hostile.py`` tries."""

from __future__ import annotations

from pathlib import Path

import hostile_folders as folders
import hostile_logs as logs
import pytest
from hostile_commands import READING, WRITING, Tried
from hostile_lines import odd_lines
from hostile_outputs import markup
from hostile_run import Runner
from hostile_strings import WHOLE

from voicelog.errors import VoicelogError
from voicelog.runtime.checked_log import checked_log, verify
from voicelog.runtime.logs import open_log

SHOWN = [command for command in READING if "--json" not in command and "--dry-run" not in command]
CHANGED = (("verify", "LOG"), ("export", "LOG", "-o", "OUT.vtt"), *WRITING[:1])
"""What meets a file of the log that is none: checked, read, and written beside."""


@pytest.fixture(scope="module")
def tried(run: Runner, honest_log: Path) -> Tried:
    """Tries commands; the markup of a report is compared with that of the honest log's."""
    return Tried(run, honest_log, markup(run("export", honest_log, "--to", "html").out))


@pytest.fixture
def evil(run: Runner) -> Path:
    """Where the hostile log goes."""
    return run.home / "given" / "20260314T080530Z-evil"


def test_texts_of_a_log_steer_nothing(tried: Tried, honest_log: Path, evil: Path) -> None:
    """Everything at once wherever the contract takes text: terminal, page, table, JSON, cues."""
    log = logs.altered(honest_log, evil, logs.filled(WHOLE))
    assert tried.faults(log, SHOWN) == []


def test_titles_of_a_log_steer_nothing(tried: Tried, honest_log: Path, evil: Path) -> None:
    """The log's own map and rules are as foreign as its lines."""
    log = logs.copied(honest_log, evil)
    logs.with_titles(log, WHOLE)
    shown = [command for command in SHOWN if command[0] in ("why", "work", "review")]
    assert tried.faults(log, shown) == []


def test_a_value_in_the_wrong_shape_is_refused_or_harmless(honest_log: Path) -> None:
    """A few of the values that ``hostile.py`` puts into every line, drawn by a seed."""
    count, fitting, wrong = odd_lines(honest_log, seed=9, most=150)
    assert (count, wrong) == (150, [])
    assert 0 < fitting < count


@pytest.mark.parametrize("name", logs.NAMES)
def test_names_that_lead_out_of_the_log_open_nothing(
    name: str, honest_log: Path, evil: Path
) -> None:
    """A map or a file of the grammar refuses the log; a clip is a problem, and is not looked for."""
    log = logs.altered(honest_log, evil, logs.NAMES[name])
    if name.startswith("file: "):
        assert not verify(log).ok
    elif not name.startswith("recovered"):
        with pytest.raises(VoicelogError):
            open_log(log)


@pytest.mark.parametrize("name", [name for name in logs.BYTES if name != "zeros"])
def test_other_bytes_in_a_journal_are_one_clear_fault(
    name: str, honest_log: Path, evil: Path
) -> None:
    """Bombs of JSON, other encodings, other files. Zeros behind the last line are what a power cut
    leaves, and do no harm.
    """
    log = logs.copied(honest_log, evil)
    logs.BYTES[name](log)
    with pytest.raises(VoicelogError):
        checked_log(log)


@pytest.mark.parametrize("name", folders.FOLDERS)
def test_what_lies_in_a_log_and_is_no_file_harms_nobody(
    name: str, tried: Tried, run: Runner, honest_log: Path, evil: Path
) -> None:
    """Links, pipes, devices, files of 64 GB: nothing hangs, and nothing beside the log is written."""
    log, beside = logs.copied(honest_log, evil), folders.victim(run.home)
    folders.FOLDERS[name](log, beside)
    assert tried.faults(log, CHANGED if "a link" in name or "a pipe" in name else CHANGED[:1]) == []
    assert beside.read_text() == folders.VICTIM
