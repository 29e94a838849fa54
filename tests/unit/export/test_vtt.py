"""Cues and notes. ``tests/outside/test_exchange_formats.py`` holds them against the standard."""

from __future__ import annotations

import io

import pytest
import webvtt

from voicelog.export.vtt import Cue, Note
from voicelog.export.vtt import webvtt as written


def _read(text: str) -> webvtt.WebVTT:
    return webvtt.from_buffer(io.StringIO(text))


def _cue(name: str = "u2", start_s: float = 0.0, duration_s: float = 1.5, **more: object) -> Cue:
    told = {"by": "R. Sample", "said": "left front rail, surface rust", "made": (), **more}
    return Cue(name, start_s, duration_s, **told)  # type: ignore[arg-type]


def test_a_cue_has_who_said_what_and_what_became_of_it() -> None:
    """The sentence under its voice, then one line for each entry."""
    text = written([_cue(start_s=3661.5, made=("left front rail: surface rust (cosmetic)",))])
    assert text == (
        "WEBVTT\n\nu2\n01:01:01.500 --> 01:01:03.000\n"
        "<v R. Sample>left front rail, surface rust</v>\n"
        "left front rail: surface rust (cosmetic)\n"
    )
    [caption] = _read(text).captions
    assert (caption.identifier, caption.start_in_seconds, caption.voice) == (
        "u2",
        3661,
        "R. Sample",
    )
    assert caption.start == "01:01:01.500"


def test_what_has_no_sound_is_a_note_at_its_place() -> None:
    """Players pass over it."""
    text = written([Note(("First.", "Second.")), _cue(), Note(("2.5 s of sound lost here.",))])
    read = _read(text)
    assert len(read.captions) == 1
    assert "NOTE\nFirst.\nSecond.\n\nu2\n" in text
    assert text.endswith("NOTE\n2.5 s of sound lost here.\n")


def test_an_empty_line_of_what_became_of_it_does_not_end_the_cue() -> None:
    """A blank line would turn the rest into something else."""
    [caption] = _read(written([_cue(made=("", "  ", "left sill: hole"))])).captions
    assert caption.lines[1:] == ["left sill: hole"]


@pytest.mark.parametrize("starts_s", [(5.0, 2.0), (3.0, 3.0), (0.0, 1e6)])
def test_starts_never_go_back(starts_s: tuple[float, float]) -> None:
    """The standard asks for it; a clock that was set back moves a cue, and drops none."""
    text = written([_cue("u2", starts_s[0]), _cue("u3", starts_s[1], 0.0)])
    first, second = _read(text).captions
    assert first.start <= second.start
    assert second.start < second.end


def test_nothing_said_is_a_file_all_the_same() -> None:
    """The signature line alone."""
    assert written([]) == "WEBVTT\n"
    assert not _read(written([])).captions
