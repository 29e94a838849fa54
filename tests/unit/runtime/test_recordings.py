"""Looking through a folder of recordings: what is there, whose it is, what is missing or odd."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.unit.runtime.told_recordings import put
from voicelog.errors import InputFault
from voicelog.runtime.recordings import ABOUT, Recordings, recordings_in
from voicelog.yardstick.sheet import FILE


def named(found: Recordings) -> list[tuple[str, str, str, str]]:
    """Speaker, noise, sentence and take of each recording."""
    takes = [one.take for one in found.found]
    return [(t.speaker, t.noise, t.item.id, t.number) for t in takes]


def test_folders_tell_speaker_and_noise(tmp_path: Path) -> None:
    """In the order of speakers, noises, sentences; takes apart; a noise may have folders within."""
    put(
        tmp_path, "s02/fan/01.wav", "s01/quiet/02.wav", "s01/quiet/2-b.FLAC", "s01/shop/radio/1.wav"
    )
    assert named(recordings_in(tmp_path)) == [
        ("s01", "quiet", "02", ""),
        ("s01", "quiet", "02", "b"),
        ("s01", "shop/radio", "01", ""),
        ("s02", "fan", "01", ""),
    ]


@pytest.mark.parametrize(
    ("name", "take"),
    [("01", ""), ("1", ""), ("01-2", "2"), ("01_b", "b"), ("01 (2)", "2"), ("01.take2", "take2")],
)
def test_names_that_people_and_systems_give(name: str, take: str, tmp_path: Path) -> None:
    """Copies get brackets, people write hyphens."""
    put(tmp_path, f"s01/quiet/{name}.wav")
    assert named(recordings_in(tmp_path)) == [("s01", "quiet", "01", take)]


@pytest.mark.parametrize("name", ["sill.wav", "99.wav", "x01.wav", "011.wav"])
def test_a_recording_of_no_sentence_is_told(name: str, tmp_path: Path) -> None:
    """And the others are taken all the same."""
    put(tmp_path, "s01/quiet/01.wav", f"s01/quiet/{name}")
    found = recordings_in(tmp_path)
    assert [path.name for path in found.misnamed] == [name]
    assert len(found.found) == 1


def test_a_name_becomes_a_code(tmp_path: Path) -> None:
    """So that it does not get into what is handed on; it is told."""
    put(tmp_path, "somebody/quiet/01.wav", "s01/quiet/01.wav", "02.wav")
    found = recordings_in(tmp_path)
    assert {one.take.speaker for one in found.found} == {"s01", "x1", "not told"}
    assert found.about.keys() == {"s01", "x1", "not told"}
    assert "folder 'somebody' is no code like s01; its speaker is called x1" in found.told


def test_what_was_not_said_is_told_where_anything_was(tmp_path: Path) -> None:
    """Of each speaker in each noise."""
    put(tmp_path, "s01/quiet/01.wav", "s01/quiet/03.wav", "s01/fan/01.wav", "s01/fan/02.wav")
    put(tmp_path, "s01/fan/03.wav")
    assert recordings_in(tmp_path).missing == {("s01", "quiet"): ["02"]}


def test_what_a_speaker_tells_is_taken_as_far_as_it_is_asked_for(tmp_path: Path) -> None:
    """Nothing else gets into the figures; what is empty was not told."""
    put(tmp_path, "s01/quiet/01.wav")
    (tmp_path / "s01" / ABOUT).write_text(
        'accent = "Glasgow"\nlicence = ""\nname = "no"\ndistance_cm = 4\n[noise]\nquiet = "30 dB(A)"\n'
    )
    assert recordings_in(tmp_path).about["s01"] == {
        "accent": "Glasgow", "distance_cm": 4, "noise": {"quiet": "30 dB(A)"},
    }  # fmt: skip


@pytest.mark.parametrize("raw", [b'accent = "Glas', b"\xff\xfe", b"[[noise]]\nx = 1"])
def test_a_damaged_form_costs_nothing_else(raw: bytes, tmp_path: Path) -> None:
    """It is told, and the recordings count."""
    put(tmp_path, "s01/quiet/01.wav")
    (tmp_path / "s01" / ABOUT).write_bytes(raw)
    found = recordings_in(tmp_path)
    assert len(found.found) == 1
    assert found.about["s01"] == {}


def test_hidden_files_and_other_files_are_nothing(tmp_path: Path) -> None:
    """Systems leave their own beside recordings."""
    put(tmp_path, "s01/quiet/01.wav", "s01/quiet/._02.wav", ".trash/quiet/02.wav")
    (tmp_path / "s01" / "notes.txt").write_text("x")
    found = recordings_in(tmp_path)
    assert len(found.found) == 1
    assert not found.misnamed


def test_a_folder_without_recordings_or_sheet_says_what_to_do(tmp_path: Path) -> None:
    """Each in one sentence, with the next step."""
    with pytest.raises(InputFault, match="There is no folder"):
        recordings_in(tmp_path / "nowhere")
    with pytest.raises(InputFault, match=r"has no sheet.json.*--sheet"):
        recordings_in(tmp_path)
    put(tmp_path)
    with pytest.raises(InputFault, match="a sheet and no recordings"):
        recordings_in(tmp_path)


@pytest.mark.parametrize("raw", [b"{", b"\xff", b"[" * 100_000, b'"x"'])
def test_a_damaged_sheet_is_refused(raw: bytes, tmp_path: Path) -> None:
    """Nothing can be scored without it."""
    put(tmp_path, "s01/quiet/01.wav")
    (tmp_path / FILE).write_bytes(raw)
    with pytest.raises(InputFault, match=f"{FILE} is damaged"):
        recordings_in(tmp_path)
