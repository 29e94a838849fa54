"""Recordings heard and judged, by an ear that is told what to hear; and the figures made of it."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

import numpy as np
import pytest
import soundfile

from tests.unit.runtime.told_recordings import SHEET, ToldEar, put
from voicelog.config.grammar import Grammar, load_grammar
from voicelog.config.settings import Settings
from voicelog.domain.heard import Heard
from voicelog.domain.sound import Clip
from voicelog.errors import EarFault
from voicelog.interpret.reader import Reader
from voicelog.runtime.figures import figures
from voicelog.runtime.measuring import TYPED, Measured, Measuring
from voicelog.runtime.recordings import recordings_in
from voicelog.yardstick.scored import counts

THREE = ("s01/quiet/01.wav", "s01/quiet/02.wav", "s01/quiet/03.wav")
UNSAFE = "steering box mount, crack"
RIGHT = tuple(item.text for item in SHEET.items)


@cache
def grammar() -> Grammar:
    """The shipped one."""
    return load_grammar()


@pytest.fixture(autouse=True, scope="module")
def _one_reader() -> Iterator[None]:
    """Building its indexes takes longer than all else here."""
    made = cache(lambda: Reader(grammar().vocabulary, grammar().zone_map, speech=Settings().speech))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("voicelog.runtime.measuring.Reader", lambda *_, **__: made())
        yield


class Second:
    """A second ear that hears one thing, or fails."""

    engine, model = "second", "told"

    def __init__(self, text: str) -> None:
        self.text, self.asked = text, 0

    def start(self) -> None:
        """It is ready."""

    def hear(self, clip: Clip) -> Heard:
        """The text, as sure as if typed."""
        self.asked += 1
        if not self.text:
            raise EarFault("The second ear crashed")
        return Heard.typed(self.text)

    def close(self) -> None:
        """Nothing is held."""


@pytest.fixture
def measure(tmp_path: Path) -> Callable[..., Measured]:
    """Has a told ear hear recordings of these names."""

    def run(*texts: str, names: tuple[str, ...] = THREE, second: Second | None = None) -> Measured:
        found = recordings_in(put(tmp_path, *names))
        return Measuring(Settings(), grammar(), ToldEar(texts), second).measure(found)

    return run


def test_what_is_heard_right_is_exact(measure: Callable[..., Measured]) -> None:
    """And no word is wrong; typed text is exact too."""
    done = measure(*RIGHT)
    assert done.systems == ("built-in", TYPED)
    for system in done.systems:
        found = counts(done.scored, system)
        assert (found.told.exact, found.told.cases, found.talk, found.spoilt) == (2, 2, 1, 0)
    assert found.words.errors == 0


def test_a_wrong_word_that_changes_a_slot_costs_the_sentence(
    measure: Callable[..., Measured],
) -> None:
    """Of five slots one is wrong, and one word of six."""
    done = measure(RIGHT[0], "right front rail, hole, two inches", RIGHT[2])
    found = counts(done.scored, "built-in")
    assert (found.told.exact, found.told.slots_right, found.told.slots_wanted) == (1, 8, 9)
    assert found.words.wrong == 2  # "one inch", "two inches"
    assert counts(done.scored, TYPED).told.exact == 2


@pytest.mark.parametrize("heard", ["right sill, hole", "disregard that", "correction, right side"])
def test_talk_that_makes_or_spoils_a_finding_is_false(
    heard: str, measure: Callable[..., Measured]
) -> None:
    """One stood before it."""
    found = counts(measure(*RIGHT[:2], heard).scored, "built-in")
    assert (found.talk, found.spoilt) == (1, 1)


def test_the_ear_expects_a_place_where_one_is_carried(tmp_path: Path) -> None:
    """Talk comes in the middle of an inspection; a recording that tells begins one."""
    ear = ToldEar(RIGHT)
    found = recordings_in(put(tmp_path, *THREE))
    Measuring(Settings(), grammar(), ear).measure(found)
    assert [one.placed for one in ear.expected[::2]] == [False, False, True]


def test_the_second_ear_is_asked_where_it_can_change_something(
    measure: Callable[..., Measured],
) -> None:
    """What is unsafe is heard again, what is plain is not; the first ear's own column stays as it is."""
    second = Second(UNSAFE)
    done = measure(UNSAFE, *RIGHT[1:], second=second)
    assert done.systems == ("built-in", "built-in + second", TYPED)
    assert second.asked == sum(one.asked for one in done.scored) == 1
    assert counts(done.scored, "built-in").told.exact == 1


def test_a_second_ear_that_fails_is_told_and_the_rest_is_measured(
    measure: Callable[..., Measured],
) -> None:
    """Its column goes on with the first ear alone."""
    second = Second("")
    done = measure(*[UNSAFE] * 3, second=second)
    assert second.asked == 1
    assert "crashed" in done.told[0]
    assert counts(done.scored, "built-in + second").told.cases == 2


def test_what_cannot_be_read_to_its_end_is_left_out(
    tmp_path: Path, measure: Callable[..., Measured]
) -> None:
    """Cut off, empty, no sound at all: told one by one, without the folder's path."""
    put(tmp_path, *THREE)
    soundfile.write(tmp_path / THREE[0], np.zeros(16_000, np.int16), 16_000, format="WAV")
    whole = (tmp_path / THREE[0]).read_bytes()
    names = ("s01/fan/01.wav", "s01/fan/02.wav", "s01/fan/03.wav")
    put(tmp_path, *names)
    for name, raw in zip(names, (whole[: len(whole) // 2], b"", b"no sound"), strict=True):
        (tmp_path / name).write_bytes(raw)
    done = measure(*RIGHT, names=())
    assert sorted(path.name for path in done.left_out) == ["01.wav", "02.wav", "03.wav"]
    assert not [why for why in done.left_out.values() if str(tmp_path) in why]
    assert len(done.scored) == 3


def test_silence_counts_as_wrong(tmp_path: Path, measure: Callable[..., Measured]) -> None:
    """Nothing was heard of what somebody said, or should have said: it is told."""
    put(tmp_path, THREE[0])
    soundfile.write(tmp_path / THREE[0], np.zeros(32_000, np.int16), 16_000, format="WAV")
    done = measure(names=())
    assert [path.name for path in done.silent] == ["01.wav"]
    found = counts(done.scored, "built-in")
    assert (found.told.exact, found.told.missing, found.words.missing) == (0, 1, 4)


def test_figures_hold_counts_and_no_word_that_was_heard(
    tmp_path: Path, measure: Callable[..., Measured]
) -> None:
    """Nor a path, a file's name, or a folder that is called by a name."""
    (tmp_path / "sandra").mkdir()
    done = measure(
        RIGHT[0], "quixotic zebra", names=("sandra/quiet/01.wav", "sandra/quiet/02-zz.wav")
    )
    put(tmp_path, "sandra/quiet/mykitchen.wav")
    found = recordings_in(tmp_path)
    told = figures(found, done, Settings(), {"built-in": "told"})
    text = json.dumps(told)
    assert not [w for w in ("quixotic", "sandra", "mykitchen", str(tmp_path), ".wav") if w in text]
    assert told["left_out"] == {"unreadable": 0, "misnamed": 1, "missing": 1}
    assert told["systems"]["built-in"]["all"]["cases"] == 2
    assert told["systems"]["built-in"]["by_speaker"].keys() == {"x1"}
    assert [one["take"] for one in told["recordings"]] == ["", "zz"]
    assert len(told["sheet"]["sha256"]) == 64
