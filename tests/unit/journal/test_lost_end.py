"""The end of a journal that is gone shows by the clips and pictures that lie there without a line."""

from __future__ import annotations

from pathlib import Path

import pytest

from voicelog.domain.fact import Fact
from voicelog.domain.sound import Clip
from voicelog.errors import LogFault
from voicelog.journal.journal import Journal
from voicelog.journal.lost_end import MOST_LOST, Beyond, beyond
from voicelog.journal.reading import Walk, read_log, verify

SOUND = Clip(bytes(range(250)) * 8, start_s=0.0, speech_end_s=0.1)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A log of five lines, four of them with their sound."""
    with Journal.create(tmp_path, opened={}, grammar={}) as journal:
        for n in range(2, 6):
            clip = journal.keep_clip(f"u{n}", SOUND)
            journal.append("utterance", {"utterance": f"u{n}", "changes": [], "clip": clip})
    return journal.folder


def cut(folder: Path, lines: int) -> None:
    """The journal ends, cleanly, after so many lines."""
    path = folder / "journal.jsonl"
    path.write_bytes(b"".join(path.read_bytes().splitlines(keepends=True)[:lines]))


def test_one_file_without_a_line_is_what_a_crash_leaves(folder: Path) -> None:
    """It is written first, and its line was never acknowledged."""
    cut(folder, 4)
    assert len(read_log(folder).facts) == 4
    assert verify(folder).ok


@pytest.mark.parametrize(("lines", "more"), [(3, ""), (2, " and 1 more")])
def test_more_than_one_shows_that_lines_are_gone(folder: Path, lines: int, more: str) -> None:
    """Nobody reads the log as a shorter one, and nobody goes on with it."""
    cut(folder, lines)
    told = (
        f"The journal ends with line {lines}, and clips/u{lines + 2}.flac{more} lie there of later"
    )
    assert verify(folder).problems[0].startswith(told)
    for refused in (read_log, Journal.reopen):
        with pytest.raises(LogFault, match=told.split(",")[0]):
            refused(folder)


def test_a_log_that_is_being_spoken_is_whole_for_whoever_reads_it(folder: Path) -> None:
    """Clips that come while it is read are of lines that come as well."""
    walk = Walk(folder)
    facts: list[Fact] = []
    for fact in walk:
        facts.append(fact)
        (folder / "clips" / f"u{fact.seq + 7}.flac").write_bytes(b"said meanwhile")
    assert len(facts) == 5


def test_pictures_count_and_other_files_do_not() -> None:
    """Names that the program gave, near enough to be of this log."""
    last, far = (f"clips/u{5 + MOST_LOST + more}.flac" for more in (0, 1))
    strange = (
        "clips/u9.orphan-1.flac",
        "clips/u09.flac",
        "photos/IMG_12.jpg",
        "clips/u6.flac",
        far,
    )
    assert beyond(strange, 5) == Beyond((), 0)
    assert beyond((*strange, last), 5).names == (last,)
    found = beyond((*strange, "photos/p12.jpg", "clips/u8.flac"), 5)
    assert (found.names, found.last) == (("clips/u8.flac", "photos/p12.jpg"), 12)
