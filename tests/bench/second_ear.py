"""Measure the second ear; run ``python tests/bench/second_ear.py`` with the extra ``second-ear``.

It asks the installed model what the unit tests only ask a stand-in: that speech comes out with times
and confidences, that nothing comes of noise, and that no connection is opened. Then the bundled
recordings, as they are and in more shop noise, against the built-in ear.
"""

from __future__ import annotations

import json
import socket
import tempfile
import time
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import soundfile
from measure import run_of, standing_by, table, type_in
from relisten import noisy
from score import score
from teaching import parser
from yardstick.voices import studio

from voicelog.config.data import samples_dir
from voicelog.config.grammar import load_grammar
from voicelog.config.settings import Settings
from voicelog.domain.sound import SAMPLE_RATE
from voicelog.recognise.port import Ear
from voicelog.runtime.event import Event
from voicelog.runtime.listening import hear_files
from voicelog.runtime.opening import open_the_ear
from voicelog.runtime.session import Session

NOISES = ("pink", "compressor", "impacts", "air_tool", "shop")
EACH = 8


def no_network() -> None:
    """Whoever opens a connection from here on fails loudly."""

    def refuse(*_: object, **__: object) -> None:
        raise SystemExit("the second ear wanted to reach the network")

    socket.socket.connect = refuse  # type: ignore[method-assign]
    socket.getaddrinfo = refuse  # type: ignore[assignment]


def of_noise(ear: Ear) -> str:
    """How many clips of noise, 0.6 to 5 s long and -40 to -20 dBFS loud, were answered with words."""
    make, rng, answers = studio(), np.random.default_rng(3), 0
    for name in NOISES * EACH:
        sound = getattr(make, name)(int(SAMPLE_RATE * rng.uniform(0.6, 5)), rng)
        sound *= make.amplitude(rng.uniform(-40, -20)) / make.rms(sound)
        ear.feed((np.clip(sound, -1, 1) * 32767).astype("<i2").tobytes())
        answers += bool(ear.finish().hypotheses)
    return f"{answers} of {len(NOISES) * EACH} clips of noise answered with words"


def of_speech(ear: Ear) -> str:
    """One recording, word by word; fails where times or confidences are not as the port has them."""
    samples, _ = soundfile.read(samples_dir() / "d01.flac", dtype="int16")
    ear.feed(samples.astype("<i2").tobytes())
    words = ear.finish().hypotheses[0].words
    for before, word in pairwise(words):
        assert 0 <= word.confidence <= 1
        assert 0 <= before.start_s <= before.end_s <= word.end_s <= len(samples) / SAMPLE_RATE + 0.1
    return " ".join(f"{word.text}@{word.start_s:.1f}" for word in words)


def rows(manifest: dict[str, Any]) -> Iterator[list[str]]:
    """Utterances exactly right, by ear and noise."""
    grammar, typed = load_grammar(), type_in(manifest)
    acts, silent = {o.name: o.acts for o in typed.outcomes}, standing_by(typed)
    with tempfile.TemporaryDirectory() as folder:
        plain = [samples_dir() / u["file"] for u in manifest["utterances"]]
        for title, paths in (
            ("as bundled", plain),
            ("shop noise, 12 dB", noisy(manifest, 12.0, Path(folder) / "12")),
            ("shop noise, 8 dB", noisy(manifest, 8.0, Path(folder) / "8")),
        ):
            for name in ("built-in", "second"):
                ear = open_the_ear(Settings(ear=name), grammar)
                names: list[str] = []
                told: dict[str, list[Event]] = {u["id"]: [] for u in manifest["utterances"]}
                begun = time.perf_counter()
                with Session(Settings(), grammar, ear=ear) as session:
                    for event in hear_files(
                        session, paths, Settings(), progress=lambda p, n=names: n.append(p.stem)
                    ):
                        told[names[-1]].append(event)
                    run = run_of(session, told)
                spent = (time.perf_counter() - begun) / len(paths)
                found = score(manifest["utterances"], run.outcomes, acts, silent)
                exact = f"{sum(found.exact.values())}/{len(found.exact)}"
                yield [title, name, exact, str(found.false_listening), f"{spent:.2f}"]


def main() -> None:
    """Print what was found."""
    parser(__doc__).parse_args()
    no_network()
    ear = open_the_ear(Settings(ear="second"), load_grammar())
    print(of_speech(ear))
    print(of_noise(ear))
    manifest = json.loads((samples_dir() / "manifest.json").read_text("utf-8"))
    head = (
        "sound",
        "ear",
        "utterances exactly right",
        "false entries from chatter",
        "s an utterance",
    )
    print(table(head, rows(manifest)))


if __name__ == "__main__":
    main()
