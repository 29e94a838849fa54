"""Pictures beside a journal: on disk before their line, and checked with it."""

from __future__ import annotations

import hashlib
import os
from pathlib import Path

import pytest

from voicelog.errors import StorageFault
from voicelog.journal.journal import Journal
from voicelog.journal.photos import write_photo
from voicelog.journal.reading import verify

PICTURE = b"\xff\xd8 a picture"


def _keep(journal: Journal, data: bytes = PICTURE) -> str:
    seq = journal.next_seq
    file, sha256 = write_photo(journal.folder, seq, data, "jpg")
    journal.append("photo", {"file": file, "sha256": sha256, "original": "IMG_1.jpg"})
    return file


def test_a_picture_is_kept_private_under_the_number_of_its_line(journal: Journal) -> None:
    """Nobody else on the machine can look at it."""
    file, sha256 = write_photo(journal.folder, 2, PICTURE, "jpg")
    assert file == "photos/p2.jpg"
    assert (journal.folder / file).read_bytes() == PICTURE
    assert sha256 == hashlib.sha256(PICTURE).hexdigest()
    if os.name == "posix":
        assert (journal.folder / file).stat().st_mode & 0o777 == 0o600
        assert (journal.folder / "photos").stat().st_mode & 0o777 == 0o700


def test_a_whole_picture_is_counted(journal: Journal) -> None:
    """A second line about the same file is no second picture."""
    file = _keep(journal)
    sha256 = hashlib.sha256(PICTURE).hexdigest()
    journal.append("photo", {"file": file, "sha256": sha256, "original": "a", "entries": ["e9.1"]})
    report = verify(journal.folder)
    assert report.ok
    assert report.photos == 1


def test_a_missing_and_an_altered_picture_are_problems(journal: Journal) -> None:
    """Each is named with the line that vouched for it."""
    gone, changed = _keep(journal), _keep(journal, b"another")
    (journal.folder / gone).unlink()
    (journal.folder / changed).write_bytes(b"retouched")
    report = verify(journal.folder)
    assert report.problems == (
        "photos/p2.jpg of line 2 is missing",
        "photos/p3.jpg of line 3 is not the picture that was kept",
    )
    assert report.photos == 0


def test_a_picture_without_a_line_is_a_note(journal: Journal) -> None:
    """A crash between the two leaves one; it harms nothing."""
    write_photo(journal.folder, journal.next_seq, PICTURE, "jpg")
    report = verify(journal.folder)
    assert report.ok
    assert report.notices == ("'photos/p2.jpg' belongs to no line; a crash can leave such a file",)


def test_what_a_crash_left_is_set_aside_for_the_next(journal: Journal) -> None:
    """Whatever its ending; the same bytes need no second file."""
    write_photo(journal.folder, 2, PICTURE, "png")
    write_photo(journal.folder, 2, b"other", "jpg")
    write_photo(journal.folder, 2, b"other", "jpg")
    names = sorted(path.name for path in (journal.folder / "photos").iterdir())
    assert names == ["p2.jpg", "p2.orphan-1.png"]


def test_a_line_cannot_lead_out_of_the_log(journal: Journal) -> None:
    """Nor name two pictures one file."""
    journal.append("photo", {"file": "photos/../../x.jpg", "sha256": "a" * 64, "original": "a"})
    file = _keep(journal)
    journal.append("photo", {"file": file, "sha256": "b" * 64, "original": "a"})
    problems = verify(journal.folder).problems
    assert "Line 2 of the journal is a photo whose 'file' is missing or wrong" in problems
    assert "Line 4 has another picture under a name already taken" in problems


def test_a_full_disk_leaves_nothing_of_a_picture(
    journal: Journal, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The fault says which one, and what to do."""

    def refuse(handle: int, data: bytes) -> None:
        os.write(handle, data[:3])
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("voicelog.journal.storage.write_all", refuse)
    with pytest.raises(StorageFault, match=r"picture p2 .*No space left.*Free some space"):
        write_photo(journal.folder, 2, PICTURE, "jpg")
    assert list((journal.folder / "photos").iterdir()) == []


def test_a_log_without_pictures_has_no_folder_for_them(journal: Journal) -> None:
    """And no note about one."""
    assert not (journal.folder / "photos").exists()
    assert verify(Path(journal.folder)).notices == ()


def test_another_picture_of_the_same_name_is_kept_under_another(
    journal: Journal, synced: list[str]
) -> None:
    """On disk before its name is taken; nothing that somebody took is written over."""
    write_photo(journal.folder, 2, PICTURE, "jpg")
    synced.clear()
    write_photo(journal.folder, 2, b"other", "jpg")
    kept = {path.name: path.read_bytes() for path in (journal.folder / "photos").iterdir()}
    assert kept == {"p2.jpg": b"other", "p2.orphan-1.jpg": PICTURE}
    assert synced[0] == "p2.orphan-1.jpg"


def test_the_same_picture_of_another_ending_is_no_picture_of_this_line(journal: Journal) -> None:
    """One line has one picture."""
    write_photo(journal.folder, 2, PICTURE, "jpeg")
    write_photo(journal.folder, 2, PICTURE, "jpg")
    names = sorted(path.name for path in (journal.folder / "photos").iterdir())
    assert names == ["p2.jpg", "p2.orphan-1.jpeg"]
