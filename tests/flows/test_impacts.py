"""Hammer taps, impacts and tool bursts make no entries: alone, between utterances, inside them.

Alone and between they never do. Inside an utterance they may cover a word, so that its entry is
another or missing; what is asserted is that they add none.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path

import impacts
import numpy as np
import pytest

from voicelog.capture.endpoint import Endpointer
from voicelog.capture.source import read_audio
from voicelog.config.data import samples_dir
from voicelog.config.settings import load_settings
from voicelog.runtime.listening import hear_blocks
from voicelog.runtime.opening import open_listening

Entry = tuple[str | None, ...]
Hear = Callable[[Iterable[bytes]], list[Entry]]

SPOKEN = ("d01", "d05", "d07", "d17", "d21", "d22", "d27", "d35")
"""Without noise: findings with a place of their own, and chatter (d27)."""
EXACT = 0.8
"""Share of mixed recordings that keep their entries to the letter, at least."""
MISHEARD = 2
"""Of 64 recordings with two impacts as loud as the speech: as many may have an entry more, because
the ear took a covered word for another. Measured: 1 of 64, and none with softer impacts."""
SEEDS = range(3)


@pytest.fixture(scope="module")
def hear(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Hear]:
    """Sound to the entries it makes, remarks with words aside, all in one inspection."""
    folder = tmp_path_factory.mktemp("impacts")
    no_settings = folder / "settings.toml"
    no_settings.touch()
    settings = load_settings({"into": folder, "ear": "built-in"}, user_file=no_settings, environ={})
    with open_listening(settings) as session:

        def entries(blocks: Iterable[bytes]) -> list[Entry]:
            return [
                (str(finding.entry.kind), *map(finding.entry.slots.get, ("zone", "side", "condition")))
                for event in hear_blocks(session, blocks, settings)
                for finding in event.findings
                if finding.entry.kind != "remark" or not finding.entry.text
            ]  # fmt: skip

        yield entries


@pytest.fixture(scope="module")
def spoken() -> dict[str, impacts.Sound]:
    """The recordings by their ids."""
    manifest = json.loads((samples_dir() / "manifest.json").read_text(encoding="utf-8"))
    files: dict[str, Path] = {
        one["id"]: samples_dir() / one["file"] for one in manifest["utterances"]
    }
    pcm = {name: b"".join(read_audio(files[name])) for name in SPOKEN}
    return {name: np.frombuffer(one, "<i2") / 32768 for name, one in pcm.items()}


@pytest.fixture(scope="module")
def clean(hear: Hear, spoken: dict[str, impacts.Sound]) -> dict[str, list[Entry]]:
    """The entries of each, with nothing mixed in."""
    return {name: hear([impacts.pcm(sound)]) for name, sound in spoken.items()}


@pytest.mark.parametrize("kind", impacts.kinds(0))
def test_alone_they_are_no_utterance(kind: str) -> None:
    """Six seconds of each kind, three times, loud and soft, in a quiet room: no clip at all."""
    for seed in SEEDS:
        sound = impacts.kinds(seed)[kind]
        for gain_db in (0, -12, -24):
            endpointer = Endpointer()
            pcm = impacts.pcm(sound * 10 ** (gain_db / 20))
            assert endpointer.feed(pcm) + endpointer.finish() == [], (seed, gain_db)


def test_in_a_noisy_shop_they_make_no_finding(hear: Hear) -> None:
    """Over steady noise the detector may take a ring for a voice; no finding comes of it."""
    rng = np.random.default_rng(4)
    for sound in impacts.kinds(9).values():
        for noise_dbfs in (-45, -35, -28):
            noise = rng.standard_normal(len(sound)) * 10 ** (noise_dbfs / 20)
            entries = hear([impacts.pcm(sound + noise)])
            assert [entry for entry in entries if entry[0] != "remark"] == []


def test_between_utterances_they_add_nothing(
    hear: Hear, spoken: dict[str, impacts.Sound], clean: dict[str, list[Entry]]
) -> None:
    """The entries of the recordings, with seconds of noise between them, are theirs alone."""
    wanted = [entry for entries in clean.values() for entry in entries]
    assert len(wanted) >= len(SPOKEN) - 2
    noises = impacts.kinds(1).values()
    pairs = zip(spoken.values(), noises, strict=False)
    assert hear(impacts.pcm(one) for pair in pairs for one in pair) == wanted


@pytest.mark.parametrize(("peak_dbfs", "misheard"), [(-24.0, 0), (-12.0, MISHEARD)])
def test_inside_utterances_they_add_nothing(
    hear: Hear,
    spoken: dict[str, impacts.Sound],
    clean: dict[str, list[Entry]],
    peak_dbfs: float,
    misheard: int,
) -> None:
    """Two of every kind in each recording, soft, and with peaks as loud as those of the speech."""
    exact, more = 0, []
    for kind in impacts.SINGLE:
        for number, (name, sound) in enumerate(spoken.items()):
            mixed = hear([impacts.pcm(impacts.with_two(sound, kind, peak_dbfs, number))])
            exact += mixed == clean[name]
            if len(mixed) > len(clean[name]):
                more.append((kind, name, mixed))
    assert len(more) <= misheard, more
    assert exact >= EXACT * len(impacts.SINGLE) * len(spoken)
