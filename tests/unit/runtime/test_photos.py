"""Pictures matched to a log and copied into it, from files to lines."""

from __future__ import annotations

import hashlib
import io
import json
import os
import shutil
import zipfile
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from reviewing import at_the_bench

from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.domain.photo import Photo
from voicelog.errors import InputFault, LockedFault, StorageFault, UsageFault
from voicelog.journal.reading import verify
from voicelog.runtime.opening import open_reading
from voicelog.runtime.photo_keeping import move_photo, write_photos
from voicelog.runtime.photos import Plan, Wishes, lacks_of, plan_photos
from voicelog.runtime.review import Review

SAID = (
    "left front rail, crack",
    "take a photo of that",
    "right front rail, surface rust",
    "take a photo of that",
)
"""Entries e2.1 to e5.1, a minute between each; the crack is unsafe."""


@pytest.fixture(autouse=True)
def grammar_once(shipped_grammar: Grammar, monkeypatch: pytest.MonkeyPatch) -> None:
    """A log's own copy is the shipped grammar here."""
    monkeypatch.setattr(
        "voicelog.runtime.bench_log.checked_folder", lambda *_, **__: shipped_grammar
    )


@pytest.fixture(scope="module")
def spoken(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A log of four utterances."""
    with open_reading(Settings(into=tmp_path_factory.mktemp("said")), keep=True) as session:
        for n, text in enumerate(SAID):
            session.read(text, at_s=60.0 * n)
        assert session.folder is not None
        return session.folder


@pytest.fixture
def log(spoken: Path, tmp_path: Path) -> Path:
    """A copy of it that may be written to."""
    return Path(shutil.copytree(spoken, tmp_path / "logs" / spoken.name))


@pytest.fixture
def review(log: Path) -> Iterator[Review]:
    """The same at the bench."""
    with at_the_bench(log) as opened:
        yield opened


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Where the camera's pictures lie."""
    (tmp_path / "pictures").mkdir()
    return tmp_path / "pictures"


def _at(review: Review, entry: str, after_s: float, zone: timezone = UTC) -> dict[str, str]:  # type: ignore[assignment]
    """EXIF times so long after an entry was spoken."""
    at = datetime.fromisoformat(review.finding(entry).entry.at) + timedelta(seconds=after_s)
    local = at.astimezone(zone)
    offset = f"{local:%z}"
    return {"taken": f"{local:%Y:%m:%d %H:%M:%S}", "offset": f"{offset[:3]}:{offset[3:]}"}


def _plan(review: Review, folder: Path, **wishes: Any) -> Plan:
    return plan_photos(review, folder, Wishes(**wishes))


def _written(
    review: Review, folder: Path, keep_place: bool = False, **wishes: Any
) -> list[Photo | str]:
    return list(write_photos(review, _plan(review, folder, **wishes), keep_place=keep_place))


def test_a_picture_is_copied_with_its_line(review: Review, folder: Path, camera: Any) -> None:
    """Hash, name, entries, reasons; the place of taking is gone, the chain holds."""
    data = camera.shoot(place=True, maker=b"somewhere", **_at(review, "e3.1", 4))
    (folder / "IMG_1.jpg").write_bytes(data)
    [photo] = _written(review, folder)
    assert isinstance(photo, Photo)
    assert review.photos() == (photo,)
    kept = (review.folder / photo.file).read_bytes()
    assert photo.file == f"photos/p{photo.seq}.jpg"
    assert (photo.entries, photo.confidence, photo.by) == (("e3.1", "e2.1"), 0.95, "Sam")
    assert photo.sha256 == hashlib.sha256(kept).hexdigest()
    assert photo.original_sha256 == hashlib.sha256(data).hexdigest()
    assert (photo.original, photo.location) == ("IMG_1.jpg", "stripped")
    assert camera.place_in(kept) == {}
    report = verify(review.folder)
    assert report.ok
    assert report.photos == 1


def test_a_second_run_copies_nothing_again(review: Review, folder: Path, camera: Any) -> None:
    """It says what is there already, even under another name, and the log's own copy counts too."""
    (folder / "a.jpg").write_bytes(camera.shoot(place=True, **_at(review, "e3.1", 4)))
    [photo] = _written(review, folder)
    (folder / "a.jpg").rename(folder / "b.jpg")
    (folder / "c.jpg").write_bytes((review.folder / photo.file).read_bytes())  # type: ignore[union-attr]
    again = _plan(review, folder)
    assert again.matches == ()
    assert {name: one.name for name, one in again.already.items()} == dict.fromkeys(
        ("b.jpg", "c.jpg"), photo.name  # type: ignore[union-attr]
    )  # fmt: skip


def test_the_place_is_kept_only_where_somebody_wants_it(
    review: Review, folder: Path, camera: Any
) -> None:
    """Then the copy is the original to the byte; without a place it always is."""
    data = camera.shoot(place=True, **_at(review, "e3.1", 4))
    plain = camera.shoot(seed=2, **_at(review, "e5.1", 4))
    (folder / "a.jpg").write_bytes(data)
    (folder / "b.jpg").write_bytes(plain)
    first, second = _written(review, folder, keep_place=True)
    assert isinstance(first, Photo)
    assert isinstance(second, Photo)
    assert (first.location, second.location) == ("kept", "none")
    assert (review.folder / first.file).read_bytes() == data
    assert (review.folder / second.file).read_bytes() == plain


def test_the_pictures_own_offset_holds(review: Review, folder: Path, camera: Any) -> None:
    """A phone on summer time beside a log opened in winter; the line tells the log's local time."""
    far = timezone(timedelta(hours=9))
    (folder / "a.jpg").write_bytes(camera.shoot(**_at(review, "e5.1", 3, far)))
    [one] = _plan(review, folder).matches
    assert one.entries[0] == "e5.1"
    assert not one.shot.assumed


def test_without_an_offset_the_logs_is_assumed(review: Review, folder: Path, camera: Any) -> None:
    """And both the plan and the picture's reasons say so."""
    zone = timezone(timedelta(minutes=review.facts[0].body["utc_offset_min"]))
    (folder / "a.jpg").write_bytes(camera.shoot(**_at(review, "e5.1", 3, zone) | {"offset": ""}))
    plan = _plan(review, folder)
    assert plan.matches[0].shot.assumed
    assert any("no time zone" in told for told in plan.clock.told)
    [photo] = _written(review, folder)
    assert "its time zone is assumed" in photo.because  # type: ignore[union-attr]


@pytest.mark.parametrize("wish", [{"difference": "+1h"}, {"calibrate": "a.jpg=e3.1"}])
def test_a_clock_difference_is_taken_away(
    wish: dict[str, str], review: Review, folder: Path, camera: Any
) -> None:
    """Given, or found by one picture of a claim, shot some 5 s after it; told in the line."""
    (folder / "a.jpg").write_bytes(camera.shoot(**_at(review, "e3.1", 3600)))
    (folder / "b.jpg").write_bytes(camera.shoot(seed=2, **_at(review, "e5.1", 3603)))
    assert _plan(review, folder).matches == ()
    plan = _plan(review, folder, **wish)
    assert [one.entries[0] for one in plan.matches] == ["e3.1", "e5.1"]
    assert plan.clock.ahead.total_seconds() == pytest.approx(3600, abs=6)
    first, _ = _written(review, folder, **wish)
    assert any("ahead" in told for told in first.because)  # type: ignore[union-attr]


def test_a_time_calibrates_too(review: Review, folder: Path, camera: Any) -> None:
    """Of the picture's own day and zone where it names none."""
    (folder / "a.jpg").write_bytes(camera.shoot(taken="2026:03:14 23:59:50", offset="+01:00"))
    for known, ahead_s in (("00:00:20", -30), ("2026-03-14T22:58:50Z", 60), ("23:58", 110)):
        plan = _plan(review, folder, calibrate=f"a.jpg={known}")
        assert plan.clock.ahead.total_seconds() == ahead_s


@pytest.mark.parametrize(
    ("wish", "told"),
    [
        ({"difference": "soon"}, "clock difference"),
        ({"difference": "1h", "calibrate": "a.jpg=e3.1"}, "Leave one out"),
        ({"calibrate": "z.jpg=e3.1"}, "no picture called 'z.jpg'"),
        ({"calibrate": "a.jpg=e99.1"}, "no entry"),
        ({"calibrate": "a.jpg=noon"}, "neither a time nor an entry"),
        ({"calibrate": "plain.png=e3.1"}, "does not tell when"),
        ({"by_hand": ("e99.1=a.jpg",)}, "no entry"),
        ({"by_hand": ("e3.1=z.jpg",)}, "no picture called"),
        ({"by_hand": ("e3.1",)}, "no picture called"),
    ],
)
def test_a_wish_that_cannot_be_is_refused(
    wish: dict[str, Any], told: str, review: Review, folder: Path, camera: Any
) -> None:
    """With what to do instead."""
    (folder / "a.jpg").write_bytes(camera.shoot(**_at(review, "e3.1", 3)))
    (folder / "plain.png").write_bytes(camera.shoot("PNG"))
    with pytest.raises(UsageFault, match=told):
        _plan(review, folder, **wish)


def test_a_difference_that_would_fit_is_only_proposed(
    tmp_path: Path, folder: Path, camera: Any
) -> None:
    """Nothing is corrected by a guess; the sentence says how to take it over."""
    with open_reading(Settings(into=tmp_path / "more"), keep=True) as session:
        for n, at_s in enumerate((0, 60, 150, 300, 500, 600)):
            session.read(f"{('left', 'right')[n % 2]} front rail, take a photo", at_s=float(at_s))
        assert session.folder is not None
        more = session.folder
    with at_the_bench(more) as review:
        for n in range(2, 8):
            data = camera.shoot(seed=n, **_at(review, f"e{n}.1", 905 + n % 3))
            (folder / f"{n}.jpg").write_bytes(data)
        plan = _plan(review, folder)
        assert plan.clock.ahead == timedelta(0)
        assert plan.clock.proposal is not None
        assert plan.clock.proposal.ahead.total_seconds() == pytest.approx(900, abs=5)
        assert "nothing was corrected" in plan.clock.told[-1]
        given = plan.clock.told[-1].split('"')[1]
        assert len(_plan(review, folder, difference=given).matches) == 6


def test_a_picture_is_set_by_hand(review: Review, folder: Path, camera: Any) -> None:
    """Whatever its time says, and of several entries if need be."""
    (folder / "a=b.jpg").write_bytes(camera.shoot())
    plan = _plan(review, folder, by_hand=("e4.1=a=b.jpg", "e5.1=a=b.jpg"))
    [one] = plan.matches
    assert (one.entries, one.confidence) == (("e4.1", "e5.1"), 1.0)


def test_a_file_without_exif_is_a_weak_hint(review: Review, folder: Path, camera: Any) -> None:
    """Its own time may be that of a copy, so the line names none."""
    path = folder / "a.png"
    path.write_bytes(camera.shoot("PNG"))
    at = datetime.fromisoformat(review.finding("e3.1").entry.at).timestamp() + 3
    os.utime(path, (at, at))
    plan = _plan(review, folder)
    assert plan.matches[0].confidence < 0.6
    assert any("weak hint" in told for told in plan.clock.told)
    [photo] = _written(review, folder)
    assert photo.taken == ""  # type: ignore[union-attr]


def test_bad_files_get_a_note_each_and_the_others_go_on(
    review: Review, folder: Path, camera: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Cut short, an archive, empty, a link, another kind, far too large; each named once."""
    good = camera.shoot(**_at(review, "e3.1", 4))
    (folder / "good.jpg").write_bytes(good)
    (folder / "cut.jpg").write_bytes(camera.shoot(seed=3, **_at(review, "e3.1", 5))[:-200])
    with zipfile.ZipFile(folder / "zip.jpg", "w") as archive:
        archive.writestr("x", "y")
    (folder / "empty.png").touch()
    (folder / "notes.txt").write_text("x")
    (folder / "._good.jpg").write_text("x")
    (folder / "link.jpg").symlink_to(folder / "good.jpg")
    (folder / "around").symlink_to(folder)
    plan = _plan(review, folder)
    assert [one.shot.name for one in plan.matches] == ["good.jpg"]
    named = sorted(note.partition(":")[0] for note in plan.notes)
    assert named == [
        "1 file of other kinds passed over",
        "around",
        "cut.jpg",
        "empty.png",
        "link.jpg",
        "zip.jpg",
    ]


def test_a_broken_picture_does_not_take_its_claim_along(
    review: Review, folder: Path, camera: Any
) -> None:
    """The next shot of the same claim is matched as if the broken one had never been."""
    (folder / "1.jpg").write_bytes(camera.shoot(**_at(review, "e3.1", 3))[:-200])
    (folder / "2.jpg").write_bytes(camera.shoot(seed=2, **_at(review, "e3.1", 30)))
    plan = _plan(review, folder)
    assert [(one.shot.name, one.entries[0]) for one in plan.matches] == [("2.jpg", "e3.1")]


def test_twice_the_same_picture_is_one(review: Review, folder: Path, camera: Any) -> None:
    """A copy in a second folder."""
    (folder / "deep" / "er").mkdir(parents=True)
    data = camera.shoot(**_at(review, "e3.1", 4))
    (folder / "a.jpg").write_bytes(data)
    (folder / "deep" / "er" / "a.JPG").write_bytes(data)
    plan = _plan(review, folder)
    assert len(plan.matches) == 1
    assert any("the same picture as" in note for note in plan.notes)


def test_hostile_names_are_data_and_never_paths(review: Review, folder: Path, camera: Any) -> None:
    """The copy is named by its line; the name lies in the line alone, escaped."""
    name = "\x1b[2J\u202egpj.‮../x\n.jpg".replace("/", "_")
    (folder / name).write_bytes(camera.shoot(**_at(review, "e3.1", 4)))
    [photo] = _written(review, folder)
    assert photo.original == name  # type: ignore[union-attr]
    assert [path.name for path in (review.folder / "photos").iterdir()] == [f"{photo.name}.jpg"]  # type: ignore[union-attr]
    assert b"\x1b" not in (review.folder / "journal.jsonl").read_bytes()


def test_a_name_that_is_no_text_is_kept_as_far_as_it_is(
    review: Review, folder: Path, camera: Any
) -> None:
    """Bytes that are no UTF-8 become marks, and the line can be read again."""
    path = os.fsencode(folder) + b"/\xff\xfe.jpg"
    with open(path, "wb") as file:  # noqa: PTH123 - a path of bytes
        file.write(camera.shoot(**_at(review, "e3.1", 4)))
    [photo] = _written(review, folder)
    assert photo.original == "\ufffd\ufffd.jpg"  # type: ignore[union-attr]
    assert json.loads((review.folder / "journal.jsonl").read_bytes().splitlines()[-1])


def test_the_logs_own_pictures_are_passed_over(review: Review, camera: Any) -> None:
    """Whoever names the folder that holds everything."""
    (review.folder.parent / "a.jpg").write_bytes(camera.shoot(**_at(review, "e3.1", 4)))
    _written(review, review.folder.parent)
    plan = _plan(review, review.folder.parent)
    assert list(plan.folder.pictures) == ["a.jpg"]
    assert any("own folder" in note for note in plan.notes)


def test_a_folder_that_is_not_there_is_told(review: Review, tmp_path: Path) -> None:
    """By its name."""
    (tmp_path / "a.jpg").touch()
    for name, told in (
        ("nowhere", "cannot be read"),
        ("a.jpg", "is no folder"),
        ("x" * 300, "long"),
    ):
        with pytest.raises(InputFault, match=f"{name}' .*{told}"):
            _plan(review, tmp_path / name)


def test_pictures_inside_the_logs_folder_are_refused_in_one_sentence(
    review: Review, camera: Any
) -> None:
    """Copied there by hand; nothing in a log's folder is taken for a picture from outside."""
    (review.folder / "mine").mkdir()
    (review.folder / "mine" / "a.jpg").write_bytes(camera.shoot(**_at(review, "e3.1", 4)))
    for folder in (review.folder, review.folder / "mine"):
        with pytest.raises(InputFault, match="in the log's own folder"):
            _plan(review, folder)


def test_pictures_of_no_entry_are_kept_where_somebody_wants_it(
    review: Review, folder: Path, camera: Any
) -> None:
    """Else they stay where they are: they may be of anything."""
    (folder / "far.jpg").write_bytes(camera.shoot(taken="2001:01:01 10:00:00"))
    assert _written(review, folder) == []
    [photo] = _written(review, folder, unmatched=True)
    assert photo.entries == ()  # type: ignore[union-attr]


def test_a_full_disk_stops_and_what_was_kept_stays(
    review: Review, folder: Path, camera: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The second picture finds no room; the first has its line, and nothing is half written."""
    for n, entry in enumerate(("e3.1", "e5.1")):
        (folder / f"{n}.jpg").write_bytes(camera.shoot(seed=n, **_at(review, entry, 4)))
    writing = write_photos(review, _plan(review, folder))
    first = next(writing)
    monkeypatch.setattr("voicelog.journal.storage.write_all", _no_room)
    with pytest.raises(StorageFault, match="No space left"):
        next(writing)
    monkeypatch.undo()
    assert review.photos() == (first,)
    assert verify(review.folder).notices == ()
    assert len(_plan(review, folder).already) == 1


def _no_room(handle: int, data: bytes) -> None:
    raise OSError(28, "No space left on device")


def test_a_crash_between_file_and_line_is_made_good(
    review: Review, folder: Path, camera: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The file is there, its line is not: a note, and the next run writes both."""
    (folder / "a.jpg").write_bytes(camera.shoot(**_at(review, "e3.1", 4)))
    with monkeypatch.context() as patch:
        patch.setattr(Review, "note", _stop)
        with pytest.raises(KeyboardInterrupt):
            _written(review, folder)
    [note] = verify(review.folder).notices
    assert "belongs to no line" in note
    assert len(_written(review, folder)) == 1
    assert verify(review.folder).notices == ()


def _stop(*_: Any) -> None:
    raise KeyboardInterrupt


def test_a_picture_changed_in_between_is_not_kept(
    review: Review, folder: Path, camera: Any
) -> None:
    """What was shown is what is written."""
    (folder / "a.jpg").write_bytes(camera.shoot(**_at(review, "e3.1", 4)))
    plan = _plan(review, folder)
    (folder / "a.jpg").write_bytes(camera.shoot(seed=9, **_at(review, "e3.1", 4)))
    [told] = write_photos(review, plan)
    assert "changed while it was looked at" in str(told)
    assert review.photos() == ()


def test_a_tiff_of_several_pages_is_told_and_the_next_is_kept(
    review: Review, folder: Path, camera: Any
) -> None:
    """One fault costs one picture."""
    page, file = Image.new("RGB", (8, 8)), io.BytesIO()
    page.save(file, "TIFF", save_all=True, append_images=[page])
    (folder / "a.tif").write_bytes(file.getvalue())
    (folder / "b.jpg").write_bytes(camera.shoot(**_at(review, "e3.1", 4)))
    told, photo = _written(review, folder, by_hand=("e3.1=a.tif",))
    by_kind = {Photo if isinstance(one, Photo) else str: one for one in (told, photo)}
    assert by_kind.keys() == {str, Photo}
    assert "several pages" in by_kind[str]


def test_heic_is_kept_as_a_jpeg(review: Review, folder: Path, heic: bytes, camera: Any) -> None:
    """Or as it is, with the place left in."""
    (folder / "a.heic").write_bytes(heic)
    [photo] = _written(review, folder, by_hand=("e3.1=a.heic",))
    assert photo.file.endswith(".jpg")  # type: ignore[union-attr]
    assert camera.place_in((review.folder / photo.file).read_bytes()) == {}  # type: ignore[union-attr]


def test_a_log_that_another_program_writes_is_left_alone(
    log: Path, review: Review, folder: Path, camera: Any
) -> None:
    """No file, no line."""
    (folder / "a.jpg").write_bytes(camera.shoot(**_at(review, "e3.1", 4)))
    with at_the_bench(log) as second:
        assert second.read_only
        with pytest.raises(LockedFault):
            _written(second, folder)
    assert not (log / "photos").exists()


def test_a_picture_is_moved_by_hand(review: Review, folder: Path, camera: Any) -> None:
    """A new line holds over the old one; the file stays, and nothing else changes."""
    (folder / "IMG_1.jpg").write_bytes(camera.shoot(**_at(review, "e3.1", 4)))
    [photo] = _written(review, folder)
    assert isinstance(photo, Photo)
    moved = move_photo(review, f"{photo.name}=e4.1,e5.1")
    [now] = review.photos()
    assert (now.entries, now.file, now.confidence) == (("e4.1", "e5.1"), photo.file, 1.0)
    assert moved.name == photo.name
    assert move_photo(review, "IMG_1.jpg=none").entries == ()
    assert verify(review.folder).ok


@pytest.mark.parametrize(
    ("text", "told"),
    [("p99=e3.1", "No picture"), ("=e3.1", "No picture"), ("a.jpg=e99.1", "no entry"),
     ("a.jpg=", "no entry"), ("a.jpg", "No picture")],
)  # fmt: skip
def test_a_move_that_cannot_be_is_refused(
    text: str, told: str, review: Review, folder: Path, camera: Any
) -> None:
    """Nothing is written then."""
    (folder / "a.jpg").write_bytes(camera.shoot(**_at(review, "e3.1", 4)))
    _written(review, folder)
    lines = len(review.facts)
    with pytest.raises(UsageFault, match=told):
        move_photo(review, text)
    assert len(review.facts) == lines


def test_a_matched_picture_settles_what_is_unsafe(
    review: Review, folder: Path, camera: Any
) -> None:
    """It lacks one no more, neither before signing nor in the list; a plan says so beforehand."""

    def unsafe(plan: Plan | None = None) -> list[str | None]:
        return [lack.entry for lack in lacks_of(review, plan) if lack.what == "unsafe"]

    assert unsafe() == ["e2.1"]
    (folder / "a.jpg").write_bytes(camera.shoot(**_at(review, "e3.1", 4)))
    assert unsafe(_plan(review, folder)) == []
    _written(review, folder)
    assert unsafe() == []
    review.withdraw("e3.1")
    assert "unsafe-without-photo" not in {point.what for point in review.open_points()}


def test_many_pictures_are_read_in_reasonable_time(
    review: Review, folder: Path, camera: Any
) -> None:
    """A card full of another day: nothing is decoded."""
    data = camera.shoot(taken="2001:01:01 10:00:00")
    for n in range(300):
        (folder / f"{n:04}.jpg").write_bytes(data)
    plan = _plan(review, folder)
    assert len(plan.unmatched) == 300
    assert plan.notes == ()
