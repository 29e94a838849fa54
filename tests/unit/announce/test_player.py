"""Playing to a device that keeps its contract, to one that breaks it, and to none at all."""

from __future__ import annotations

import math
import sys
import threading
from typing import Any

import numpy as np
import pytest

from voicelog.announce.mixer import FADE_S
from voicelog.announce.player import RETRY_S, SILENT_HZ, STALLED_S, Player
from voicelog.announce.speaker import LATENCY_S, Speaker

RATE_HZ = 8_000
BLOCK = 80


@pytest.fixture
def faults() -> list[str]:
    """What the player told."""
    return []


@pytest.fixture
def player(library: Any, clock: Any, faults: list[str]) -> Player:
    """On the system's own speaker."""
    return Player(library=library, clock=clock, on_fault=faults.append)


def test_sound_goes_out_and_then_silence(player: Player, library: Any, sound: Any) -> None:
    """Every block is filled, on both channels, with nothing where there is nothing."""
    assert not library.stream.pump(BLOCK).any()
    player.play(sound(0.02), RATE_HZ)
    out = np.concatenate([library.stream.pump(BLOCK) for _ in range(4)])
    assert np.count_nonzero(out) == 160
    assert library.stream.options["channels"] == 2


def test_the_time_told_is_when_the_first_sample_is_heard(
    player: Player, library: Any, clock: Any, sound: Any
) -> None:
    """Against the device's own times: the next block's, and behind what is waiting."""
    library.stream.pump(BLOCK)
    clock.now_s -= 0.004  # in the middle of a block
    told_s = player.play(sound(0.1), RATE_HZ)
    behind_s = player.play(sound(0.1), RATE_HZ)
    clock.now_s += 0.004
    assert told_s == pytest.approx(clock() + library.stream.latency)
    assert behind_s == pytest.approx(told_s + 0.1)


def test_playing_lasts_until_the_speaker_has_fallen_silent(
    player: Player, library: Any, clock: Any, sound: Any
) -> None:
    """The device's latency counts: the ear would hear it."""
    player.play(sound(0.02), RATE_HZ)
    assert player.playing
    assert player.playing_words
    library.stream.pump(160)
    assert player.playing
    clock.now_s += library.stream.latency - 0.001
    assert player.playing
    clock.now_s += 0.002
    assert not player.playing


def test_a_tone_is_no_words(player: Player, library: Any, clock: Any, sound: Any) -> None:
    """The ear need not be deaf for it."""
    player.play(sound(0.02), RATE_HZ, tone=True)
    library.stream.pump(80)
    assert player.playing
    assert not player.playing_words


def test_a_tone_does_not_wait_for_words(player: Player, clock: Any, sound: Any) -> None:
    """A minute of talk does not keep an alarm waiting."""
    player.play(sound(60.0), RATE_HZ)
    assert player.play(sound(0.1), RATE_HZ, tone=True) - clock() < 0.05


def test_stop_is_silent_within_50_ms(player: Player, library: Any, sound: Any) -> None:
    """The fade and what the device may hold by then; no step on the way."""
    player.play(sound(5.0), RATE_HZ)
    before = library.stream.pump(400)
    player.stop()
    after = library.stream.pump(800)
    silent_s = np.flatnonzero(after)[-1] / RATE_HZ + LATENCY_S
    assert silent_s <= 0.05
    step = np.abs(np.diff(np.concatenate([before[100:], after]))).max()
    assert step <= 0.5 / (FADE_S * RATE_HZ) + 1e-2
    assert not player.playing_words


def test_other_rates_are_converted(player: Player, library: Any) -> None:
    """A second stays a second."""
    player.play(np.full(24_000, 0.5, np.float32), 24_000)
    out = library.stream.pump(9_000)
    assert np.flatnonzero(np.abs(out) > 0.1)[-1] / RATE_HZ == pytest.approx(1.0, abs=0.01)


@pytest.mark.parametrize(
    ("wanted", "name"),
    [(None, "Desk speaker"), ("", "Desk speaker"), ("2", "Headset"), (2, "Headset"), ("head", "Headset")],
)  # fmt: skip
def test_a_speaker_is_found_by_number_or_part_of_its_name(
    library: Any, clock: Any, wanted: str | int | None, name: str
) -> None:
    """As in the settings; one channel where it has no two."""
    player = Player(wanted, library=library, clock=clock)
    assert player.device == name
    assert library.stream.options["channels"] == (1 if name == "Headset" else 2)


@pytest.mark.parametrize("wanted", ["kitchen", "0", "9"])
def test_a_speaker_that_is_not_there_is_told_with_those_that_are(
    library: Any, clock: Any, faults: list[str], wanted: str
) -> None:
    """Also for the number of a microphone; once, at the first sound, and nothing is raised."""
    player = Player(wanted, library=library, clock=clock, on_fault=faults.append)
    assert player.device == ""
    assert faults == []
    for _ in range(2):
        player.play(np.ones(8, np.float32), RATE_HZ)
    assert faults == [player.why]
    assert "1: Desk speaker (A), 2: Headset (A)" in player.why


@pytest.mark.parametrize("when", ["opening", "starting"])
def test_a_speaker_that_refuses_is_told(library: Any, clock: Any, when: str) -> None:
    """Another program may hold it."""
    setattr(library, when, library.PortAudioError("Device unavailable", -9985))
    player = Player(library=library, clock=clock)
    assert player.device == ""
    assert "Desk speaker cannot be used (Device unavailable)" in player.why
    assert all(stream.closed for stream in library.streams)


@pytest.mark.parametrize(
    ("error", "told"), [(ImportError, "pip install sounddevice"), (OSError, "libportaudio2")]
)
def test_no_portaudio_is_told_with_the_way_to_get_it(
    monkeypatch: pytest.MonkeyPatch, error: type[Exception], told: str
) -> None:
    """The package may be missing, or the library behind it."""

    class Missing:
        """Fails to import one module."""

        def find_spec(self, name: str, *more: object) -> None:
            """Fail for sounddevice."""
            if name == "sounddevice":
                raise error(name)

    monkeypatch.delitem(sys.modules, "sounddevice", raising=False)
    monkeypatch.setattr(sys, "meta_path", [Missing(), *sys.meta_path])
    assert told in Player().why


def test_without_a_speaker_time_passes_as_if_there_were_one(clock: Any, faults: list[str]) -> None:
    """A second of sound plays for a second, then it is over."""
    player = Player(silent="No speaker was wanted", clock=clock, on_fault=faults.append)
    player.play(np.ones(player.rate_hz, np.float32), player.rate_hz)
    player.play(np.ones(player.rate_hz // 2, np.float32), player.rate_hz, tone=True)
    for now_s, words, anything in ((100.4, True, True), (101.4, True, True), (101.6, False, False)):
        clock.now_s = now_s
        assert (player.playing_words, player.playing) == (words, anything)
    assert faults == ["No speaker was wanted"]


def test_silence_long_past_does_not_swallow_new_sound(clock: Any) -> None:
    """An idle hour is not made up for."""
    player = Player(silent="none", clock=clock)
    clock.now_s += 3_600
    player.play(np.ones(player.rate_hz, np.float32), player.rate_hz)
    clock.now_s += 0.5
    assert player.playing
    player.stop()
    clock.now_s += 2 * FADE_S
    assert not player.playing


def test_a_speaker_lost_while_playing_is_told_once_and_time_goes_on(
    player: Player, library: Any, clock: Any, sound: Any, faults: list[str]
) -> None:
    """Nothing is raised, what was playing ends when it would have, and later sounds pass too."""
    player.play(sound(1.0), RATE_HZ)
    library.stream.pump(800)
    library.stream.unplug()
    player.play(sound(1.0), RATE_HZ)
    assert faults == ["The speaker Desk speaker is lost: it was unplugged or switched off"]
    assert player.playing_words
    clock.now_s += 2.0
    assert not player.playing
    assert faults == [player.why]


def test_a_speaker_that_stalls_is_lost(
    player: Player, library: Any, clock: Any, sound: Any, faults: list[str]
) -> None:
    """Some devices vanish without a word: they ask for no more sound."""
    library.stream.pump(80)
    clock.now_s += 60.0
    assert player.device  # nothing to play: nothing is missing
    library.stream.pump(80)
    player.play(sound(1.0), RATE_HZ)
    clock.now_s += STALLED_S + 0.1
    assert player.playing
    assert "asks for no more sound" in faults[0]


def test_a_speaker_that_comes_back_is_used_again(
    player: Player, library: Any, sound: Any, faults: list[str]
) -> None:
    """When somebody asks to look; the lost stream is closed first, and a new loss told anew."""
    first = library.stream
    first.unplug()
    assert player.reopen()
    assert first.closed
    assert (player.device, player.why) == ("Desk speaker", "")
    player.play(sound(0.1), RATE_HZ)
    assert library.stream.pump(80).any()
    library.stream.unplug()
    assert len(faults) == 2


def test_a_device_let_go_is_closed_and_silent_until_reopened(
    player: Player, library: Any, clock: Any, faults: list[str]
) -> None:
    """For whoever must start PortAudio anew; that is no loss to tell."""
    player.release()
    assert library.stream.closed
    player.play(np.ones(80, np.float32), RATE_HZ)
    clock.now_s += 1.0
    assert not player.playing
    assert player.reopen()
    assert faults == []


def test_closing_lets_go_twice_without_harm(player: Player, library: Any) -> None:
    """And tells nothing."""
    player.close()
    player.close()
    assert library.stream.closed
    assert not player.playing


def test_a_device_that_tells_no_delay_is_believed_its_stream_s(
    player: Player, library: Any, sound: Any
) -> None:
    """Some tell 0, some the time since the machine started."""
    stated = library.stream.latency
    for nonsense in (0.0, 9_999.0):
        library.stream.latency = nonsense
        library.stream.pump(80)
        assert player.latency_s == stated
    library.stream.latency = 0.011
    library.stream.pump(80)
    assert player.latency_s == pytest.approx(0.011)


def test_only_an_end_that_nobody_asked_for_is_a_loss(library: Any) -> None:
    """PortAudio calls back for every end of a stream, wanted or not."""
    lost: list[str] = []

    def opened() -> Speaker:
        silence = lambda _speaker, frames: np.zeros(frames, np.float32)  # noqa: E731
        return Speaker(None, silence, lambda _speaker, why: lost.append(why), library)

    speaker = opened()
    speaker.start()
    speaker.close()
    assert lost == []
    opened().start()
    library.stream.unplug()
    assert len(lost) == 1


def test_a_speaker_given_up_for_a_stall_plays_no_more_and_is_closed(
    player: Player, library: Any, clock: Any, sound: Any
) -> None:
    """A process that stood still is no dead device: what was told to be silent has to be silent."""
    clock.now_s += RETRY_S
    library.stream.pump(80)
    player.play(sound(9.0), RATE_HZ)
    library.stream.pump(800)
    clock.now_s += STALLED_S + 0.2
    assert player.playing
    assert player.device == ""
    assert not library.stream.pump(4_000).any()
    assert player.retry()
    first, second = library.streams
    assert first.closed
    assert second.pump(400).any()


def test_a_missing_speaker_is_looked_for_now_and_then(
    player: Player, library: Any, clock: Any, faults: list[str]
) -> None:
    """At once after its loss, then every few seconds; nothing is told twice, and none is opened
    while there is one.
    """
    clock.now_s += 60.0
    assert not player.retry()
    library.stream.unplug()
    library.opening = library.PortAudioError("Device unavailable")
    tried: list[float] = []
    library.query_devices = lambda: tried.append(clock()) or type(library).query_devices(library)
    for _ in range(110):
        assert not player.retry()
        clock.now_s += 0.1
    assert np.diff(tried) == pytest.approx([RETRY_S, RETRY_S], abs=0.11)
    library.opening = None
    clock.now_s += RETRY_S
    assert player.retry()
    assert not player.retry()
    assert len(library.streams) == 2
    assert len(faults) == 1


def test_a_stall_again_and_again_is_told_once(
    player: Player, library: Any, clock: Any, sound: Any, faults: list[str]
) -> None:
    """Only a device that has asked for sound since can be lost anew."""
    for _ in range(4):
        player.play(sound(9.0), RATE_HZ)
        clock.now_s += RETRY_S
        assert player.playing
        player.retry()
    assert len(faults) == 1
    library.stream.pump(80)
    clock.now_s += RETRY_S
    assert player.playing
    assert len(faults) == 2


def test_no_speaker_is_looked_for_after_it_was_let_go(player: Player, clock: Any) -> None:
    """PortAudio is being started anew then, or all is over."""
    player.release()
    clock.now_s += 60.0
    assert not player.retry()
    player.close()
    assert not player.retry()
    assert not Player(silent="none wanted").retry()


def test_a_speaker_lost_while_it_is_let_go_is_closed(player: Player, library: Any) -> None:
    """PortAudio must not be started anew while anybody holds a stream, whichever thread is first."""
    between, on = threading.Event(), threading.Event()

    class Slow(list[Speaker]):
        """Stops the device's thread in the middle of telling the loss."""

        def append(self, speaker: Speaker) -> None:
            between.set()
            assert on.wait(5.0)
            super().append(speaker)

    player._lost = Slow()
    device = threading.Thread(target=library.stream.unplug)
    device.start()
    assert between.wait(5.0)
    owner = threading.Thread(target=player.release)
    owner.start()
    owner.join(0.05)  # it may wait for the device's thread, or have done its part
    on.set()
    device.join()
    owner.join()
    assert library.stream.closed
    assert player._lost == []


def test_the_end_of_the_words_is_known_ahead_and_afterwards(
    player: Player, library: Any, clock: Any, sound: Any
) -> None:
    """Against the device's own times; a tone is no words."""
    player.play(sound(0.1), RATE_HZ, tone=True)
    library.stream.pump(800)
    assert player.words_until_s == -math.inf
    ahead_s = player.play(sound(0.5), RATE_HZ) + 0.5
    assert player.words_until_s == pytest.approx(ahead_s)
    library.stream.pump(RATE_HZ)
    assert player.words_until_s == pytest.approx(ahead_s)
    clock.now_s += 60.0
    assert player.words_until_s == pytest.approx(ahead_s)


@pytest.mark.parametrize("wanted", ["Speakers", "Speakers (Workshop Audio Pro 65)"])
def test_a_speaker_that_several_systems_offer_is_found_by_name(
    library: Any, clock: Any, wanted: str
) -> None:
    """As a microphone is: once, from one system, though one of them cuts its name."""
    whole = "Speakers (Workshop Audio Pro 65)"
    library.devices = [
        {"name": name, "max_output_channels": 2, "hostapi": system}
        for name, system in ((whole[:31], "old"), (whole, "new"), (whole, "newer"))
    ]
    assert Player(wanted, library=library, clock=clock).device in (whole, whole[:31])


def test_looking_for_a_speaker_keeps_no_sound_waiting() -> None:
    """What nobody heard is over when its time is over, however often a speaker is looked for."""
    now = [100.0]
    player = Player(silent="nobody is there", clock=lambda: now[0])
    player.play(np.ones(SILENT_HZ, np.float32), SILENT_HZ, tone=True)
    now[0] += 5.0
    player.release()
    assert player.play(np.ones(100, np.float32), SILENT_HZ, tone=True) == pytest.approx(now[0])
