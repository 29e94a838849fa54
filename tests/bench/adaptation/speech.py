"""Speaks the training texts, many at once: ``python speech.py TEXTS.tsv OUT --engines hibari=0.6,flite=0.4``.

The result is ``OUT/<engine>-<n>.npz``: int16 samples at 16 kHz one after another, lengths, and the numbers
of the texts. Who speaks is in ``speakers.py``.
"""

from __future__ import annotations

import argparse
import multiprocessing
import os
import sys
import time
from pathlib import Path

import numpy as np
from speakers import ENGINES, Sound, Speak

RATE = 16_000
PIECE = 400
"""Texts a file."""
Job = tuple[str, int, list[tuple[int, str]], str]
"""Engine, number of the file, numbers and texts, folder."""


def resampled(sound: Sound, rate: float) -> Sound:
    """At 16 kHz, by its spectrum."""
    from scipy.signal import resample_poly

    up, down = RATE // 100, round(rate / 100)
    return np.asarray(resample_poly(sound, up, down), np.float32)


def trimmed(sound: Sound) -> Sound:
    """Without silence around it, at -24 dBFS where somebody speaks."""
    frames = sound[: len(sound) // 320 * 320].reshape(-1, 320)
    level = np.sqrt((frames**2).mean(1))
    active = level > level.max() * 10 ** (-32 / 20)
    first, last = np.flatnonzero(active)[[0, -1]]
    spoken = np.sqrt((frames[active] ** 2).mean())
    cut = sound[max(first - 2, 0) * 320 : (last + 3) * 320]
    return np.asarray(np.clip(cut * (10 ** (-24 / 20) / spoken), -1, 1), np.float32)


def spoken(job: Job) -> int:
    """One file of sentences; gives how many were spoken."""
    engine, number, texts, folder = job
    if engine not in _made:
        _made[engine] = ENGINES[engine]()
    rng, sounds, said = np.random.default_rng([number, len(engine)]), [], []
    for place, text in texts:
        try:
            sound = trimmed(resampled(*_made[engine](text, rng)))
        except Exception as error:
            print(engine, text, error, file=sys.stderr)
            continue
        if 0.25 * RATE < len(sound) < 11.5 * RATE:
            sounds.append(np.round(sound * 32767).astype(np.int16))
            said.append(place)
    out = Path(folder) / f"{engine}-{number:04d}.npz"
    if sounds:
        with out.with_suffix(".part").open("wb") as file:
            np.savez(
                file, sound=np.concatenate(sounds), lengths=[len(s) for s in sounds], texts=said
            )
        out.with_suffix(".part").rename(out)
    return len(sounds)


_made: dict[str, Speak] = {}


def dealt(asked: argparse.Namespace) -> list[Job]:
    """The texts, dealt out to the engines by their shares, a file's worth each."""
    lines = [line.split("\t")[1] for line in asked.texts.read_text().splitlines()]
    order = [(n, lines[n]) for n in [*range(asked.skip, len(lines)), *range(asked.skip)]][
        : asked.most
    ]
    jobs: list[Job] = []
    at = 0
    for engine, share in (part.split("=") for part in asked.engines.split(",")):
        mine = order[at : at + round(float(share) * len(order))]
        at += len(mine)
        jobs += [
            (engine, n, mine[n * asked.piece : (n + 1) * asked.piece], str(asked.out))
            for n in range(-(-len(mine) // asked.piece))
        ]
    return jobs


def main() -> None:
    """Deal the texts out to the engines by their shares and speak them."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").split("\n")[0])
    parser.add_argument("texts", type=Path, help="kind and text a line, of texts.py")
    parser.add_argument("out", type=Path, help="folder of the sound")
    parser.add_argument(
        "--engines", default="hibari=0.6,flite=0.32,espeak=0.08", help="who speaks which share"
    )
    parser.add_argument(
        "--processes", type=int, default=os.cpu_count() or 1, help="that speak side by side"
    )
    parser.add_argument("--piece", type=int, default=PIECE, help="texts a file")
    parser.add_argument("--most", type=int, default=10**9, help="speak no more texts than this")
    parser.add_argument("--skip", type=int, default=0, help="begin with this text")
    asked = parser.parse_args()
    asked.out.mkdir(parents=True, exist_ok=True)
    jobs = dealt(asked)
    began, total = time.monotonic(), 0
    with multiprocessing.Pool(asked.processes) as pool:
        for count in pool.imap_unordered(spoken, jobs):
            total += count
            print(f"{time.monotonic() - began:.0f} s: {total} sentences", flush=True)


if __name__ == "__main__":
    main()
