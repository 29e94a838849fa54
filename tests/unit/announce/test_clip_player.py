"""Hearing a clip again, through a device that keeps its contract and through none."""

from __future__ import annotations

import sys
import threading
from collections.abc import Iterator
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from voicelog.announce import clip_player, time_stretch
from voicelog.announce.clip_player import AGAIN_S, ClipPlayer, open_clip_player
from voicelog.announce.player import RETRY_S, STALLED_S, Player

RATE_HZ = 8_000  # of the device in conftest
BLOCK = 80
LATENCY_S = 0.03

Floats = NDArray[np.float32]


@pytest.fixture
def clips(library: Any, clock: Any) -> ClipPlayer:
    """A second of a rising ramp loaded, on a device that works: the level tells where one is."""
    player = ClipPlayer(Player(library=library, clock=clock))
    player.load(_ramp(), RATE_HZ)
    return player


@pytest.fixture
def unheard(clock: Any) -> ClipPlayer:
    """The same without a speaker."""
    player = ClipPlayer(Player(silent="There is no speaker", clock=clock))
    player.load(_ramp(), RATE_HZ)
    return player


def _ramp() -> Floats:
    return np.linspace(0.0, 0.8, RATE_HZ, dtype=np.float32)


def _pumped(library: Any, seconds: float) -> Floats:
    return np.concatenate([library.stream.pump(BLOCK) for _ in range(round(seconds * 100))])


def test_a_clip_is_played_from_its_start_to_its_end(clips: ClipPlayer, library: Any) -> None:
    """All of it, once, and then silence."""
    clips.play()
    out = _pumped(library, 1.5)
    assert out[100:7_900] == pytest.approx(_ramp()[100:7_900], abs=1e-3)
    assert not out[8_000:].any()
    assert not clips.playing


def test_a_clip_is_played_from_any_word_to_any_other(clips: ClipPlayer, library: Any) -> None:
    """Without a click where it was cut."""
    clips.play(0.25, 0.5)
    out = _pumped(library, 0.5)
    assert out[100:1_900] == pytest.approx(_ramp()[2_100:3_900], abs=1e-3)
    assert np.abs(np.diff(out)).max() < 0.02
    assert not out[2_000:].any()


def test_whole_numbers_and_other_rates_sound_the_same(clips: ClipPlayer, library: Any) -> None:
    """As clips are kept: 16 kHz, 16 bit."""
    clips.load(np.full(16_000, 16_384, np.int16), 16_000)
    assert clips.duration_s == 1.0
    clips.play()
    assert _pumped(library, 0.9)[200:] == pytest.approx(0.5, abs=0.01)


def test_the_cursor_is_where_the_sound_is_heard(
    clips: ClipPlayer, library: Any, clock: Any
) -> None:
    """Not where it was handed over: the device holds some of it."""
    assert clips.position_s is None
    clips.play(0.2)
    assert clips.position_s == 0.2
    out = _pumped(library, 0.5)
    assert clips.position_s == pytest.approx(0.2 + 0.5 - LATENCY_S)
    heard = out[-1 - round(LATENCY_S * RATE_HZ)]
    assert clips.position_s == pytest.approx(heard / 0.8, abs=0.002)


@pytest.mark.parametrize("speed", [0.5, 0.75, 1.5])
def test_the_cursor_follows_the_clip_at_any_speed(
    clips: ClipPlayer, library: Any, speed: float
) -> None:
    """It counts the clip's seconds, not the clock's, and the sound lasts as long as that takes."""
    clips.play(0.2, speed=speed)
    _pumped(library, 0.3 + LATENCY_S)
    assert clips.position_s == pytest.approx(0.2 + 0.3 * speed)
    _pumped(library, 0.8 / speed - 0.3 - 0.02)
    assert clips.playing
    _pumped(library, 0.04)
    assert not clips.playing


def test_stop_falls_silent_at_once(clips: ClipPlayer, library: Any) -> None:
    """Within 50 ms, and there is no cursor any more."""
    clips.play()
    _pumped(library, 0.5)
    clips.stop()
    assert clips.position_s is None
    assert not _pumped(library, 0.2)[160:].any()


def test_playing_again_takes_the_place_of_what_plays(clips: ClipPlayer, library: Any) -> None:
    """Pressing the key twice does not play it twice."""
    clips.play()
    _pumped(library, 0.5)
    clips.play(0.1, 0.2)
    assert clips.position_s == pytest.approx(0.1)
    assert not _pumped(library, 0.4)[900:].any()


@pytest.mark.parametrize(("from_s", "to_s"), [(0.5, 0.5), (0.6, 0.5), (1.0, None), (0.0, 0.0)])
def test_a_part_without_sound_plays_nothing(
    clips: ClipPlayer, from_s: float, to_s: float | None
) -> None:
    """And is no fault: the last word may end where the clip does."""
    clips.play(from_s, to_s)
    assert not clips.playing


def test_the_clip_s_ends_are_not_overstepped(clips: ClipPlayer, library: Any, clock: Any) -> None:
    """Word times are estimates."""
    clips.play(-3.0, 99.0)
    assert clips.position_s == 0.0
    _pumped(library, 1.0)
    clock.now_s += LATENCY_S - 0.001
    assert clips.position_s == pytest.approx(0.999)


def test_nothing_loaded_plays_nothing(library: Any, clock: Any) -> None:
    """An utterance that was typed has no sound."""
    player = ClipPlayer(Player(library=library, clock=clock))
    player.play()
    assert (player.playing, player.duration_s) == (False, 0.0)


def test_a_loop_begins_anew_after_a_pause(clips: ClipPlayer, library: Any) -> None:
    """The cursor goes round with it, and stands at the end while it is silent."""
    clips.play(0.2, 0.6, loop=True)
    out = _pumped(library, 3 * (0.4 + AGAIN_S))
    rounds = out.reshape(3, -1)
    assert rounds[0][100:3_100] == pytest.approx(_ramp()[1_700:4_700], abs=1e-3)
    assert rounds[1:, 100:] == pytest.approx(np.stack([rounds[0, 100:]] * 2), abs=1e-3)
    assert np.abs(np.diff(out)).max() < 0.02
    assert not rounds[:, 3_200:].any()
    assert clips.position_s == pytest.approx(0.6)
    _pumped(library, 0.2)
    assert clips.position_s == pytest.approx(0.2 + 0.2 - LATENCY_S)
    clips.stop()
    assert not _pumped(library, 1.0)[160:].any()


def test_a_loop_ends_when_nobody_can_be_listening_any_more(
    unheard: ClipPlayer, clock: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A bench left alone falls silent, after the round that is being played."""
    monkeypatch.setattr(clip_player, "LOOP_S", 5.0)
    unheard.play(loop=True)
    clock.now_s += 5.0
    assert unheard.playing
    clock.now_s += 1.0 + AGAIN_S
    assert not unheard.playing


def test_another_clip_silences_the_one_before(clips: ClipPlayer, library: Any) -> None:
    """The next doubtful entry."""
    clips.play()
    _pumped(library, 0.5)
    clips.load(_ramp()[:800], RATE_HZ)
    assert not clips.playing
    assert not _pumped(library, 0.3)[160:].any()
    assert clips.duration_s == 0.1


def test_without_a_speaker_time_passes_and_the_reason_is_there(
    unheard: ClipPlayer, clock: Any
) -> None:
    """The cursor moves all the same."""
    assert unheard.why == "There is no speaker"
    unheard.play(0.2, speed=0.5)
    clock.now_s += 0.4
    assert unheard.position_s == pytest.approx(0.4)
    clock.now_s += 1.3
    assert not unheard.playing


def test_no_speaker_is_told_once(library: Any) -> None:
    """In one sentence with the next step, however often one plays."""
    library.devices.clear()
    faults: list[str] = []
    player = open_clip_player(library=library, on_fault=faults.append)
    assert faults == []
    player.load(_ramp(), RATE_HZ)
    player.play()
    player.play()
    assert faults == [player.why]
    assert player.why
    player.close()


def test_a_clip_played_from_start_to_end_was_heard_whole(clips: ClipPlayer, library: Any) -> None:
    """Only once its last sound has left the speaker; it stays so until another is loaded."""
    clips.play(speed=0.5)
    _pumped(library, 1.95)
    assert not clips.finished_whole
    _pumped(library, 0.1)
    assert clips.finished_whole
    clips.play(0.5)
    clips.stop()
    assert clips.finished_whole
    clips.load(_ramp(), RATE_HZ)
    assert not clips.finished_whole


def test_nobody_need_look_for_it_to_count(clips: ClipPlayer, library: Any) -> None:
    """Played to its end, and the next thing that happens is a key."""
    clips.play()
    _pumped(library, 1.1)
    clips.play(0.5)
    assert clips.finished_whole


def test_the_first_round_of_a_loop_is_the_whole_clip(clips: ClipPlayer, library: Any) -> None:
    """One need not wait for the end of the loop."""
    clips.play(loop=True)
    _pumped(library, 0.9)
    assert not clips.finished_whole
    _pumped(library, 0.2)
    assert clips.finished_whole
    assert clips.playing


@pytest.mark.parametrize(("from_s", "to_s"), [(0.01, None), (0.0, 0.99)])
def test_a_part_is_not_the_whole(
    clips: ClipPlayer, library: Any, from_s: float, to_s: float | None
) -> None:
    """Nor is one that was stopped."""
    clips.play(from_s, to_s)
    _pumped(library, 1.5)
    assert not clips.finished_whole
    clips.play()
    _pumped(library, 0.95)
    clips.stop()
    _pumped(library, 1.0)
    assert not clips.finished_whole


def test_what_nobody_could_hear_was_not_heard(unheard: ClipPlayer, clock: Any) -> None:
    """The journal must not say that somebody listened."""
    unheard.play()
    clock.now_s += 2.0
    assert not unheard.playing
    assert not unheard.finished_whole


@pytest.mark.parametrize("lost", ["unplugged", "stalled"])
def test_a_clip_whose_speaker_was_lost_was_not_heard_whole(
    clips: ClipPlayer, library: Any, clock: Any, lost: str
) -> None:
    """Not even when the speaker came back; the cursor goes on to the end."""
    clock.now_s += RETRY_S
    clips.play()
    _pumped(library, 0.5)
    if lost == "unplugged":
        library.stream.unplug()
    clock.now_s += STALLED_S + 0.1
    assert clips.look_again()
    _pumped(library, 1.0)
    assert not clips.playing
    assert not clips.finished_whole
    clips.play()
    _pumped(library, 1.1)
    assert clips.finished_whole


@pytest.fixture
def no_stretcher(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """A machine without python-stretch."""
    monkeypatch.setitem(sys.modules, "python_stretch", None)
    time_stretch.library.cache_clear()
    yield
    time_stretch.library.cache_clear()


@pytest.mark.usefixtures("no_stretcher")
def test_without_a_stretcher_it_is_played_at_full_speed(clips: ClipPlayer, library: Any) -> None:
    """And the reason is there to be told."""
    assert "voicelog[voice]" in clips.why_full_speed
    clips.play(speed=0.5)
    _pumped(library, 0.5)
    assert clips.position_s == pytest.approx(0.5 - LATENCY_S)


def test_with_a_stretcher_there_is_nothing_to_tell(clips: ClipPlayer) -> None:
    """This machine has it."""
    assert clips.why_full_speed == ""


def test_a_speed_that_nobody_wants_is_refused(clips: ClipPlayer) -> None:
    """And nothing plays."""
    with pytest.raises(ValueError, match="outside"):
        clips.play(speed=4.0)
    assert not clips.playing


def test_any_thread_may_do_anything(unheard: ClipPlayer) -> None:
    """Keys, the cursor's timer and the next clip at the same time."""
    deeds = (unheard.play, unheard.stop, lambda: unheard.position_s, lambda: unheard.finished_whole)
    faults: list[BaseException] = []

    def work(deed: Any) -> None:
        try:
            for _ in range(50):
                deed()
        except BaseException as fault:
            faults.append(fault)

    threads = [threading.Thread(target=work, args=(deed,)) for deed in deeds]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(timeout=10.0)
    assert not faults


def test_closing_lets_the_speaker_go(clips: ClipPlayer, library: Any) -> None:
    """Twice is no harm."""
    clips.play()
    clips.close()
    clips.close()
    assert library.stream.closed
    assert not clips.playing
