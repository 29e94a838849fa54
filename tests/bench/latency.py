"""How long a person waits for the tone; run ``python tests/bench/latency.py``.

The bundled recordings are played at real speed through a pretended input device, whose callback
honours the contract of a real one, into the engine that ``voicelog start`` runs. Measured is the
time from the end-pointer's decision that an utterance has ended to the moment at which its tone is
handed to the player, and what that time was spent on; a real speaker adds its own delay, as its
driver tells it. In the same run, the same recordings without decoding ahead. ``--write`` puts the
tables between the markers of the README, ``--rounds`` plays everything so many times.
"""

from __future__ import annotations

import argparse
import json
import statistics
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from queue import Queue
from time import monotonic

import page
from measure import machine
from shares import markdown

from voicelog.config.data import samples_dir
from voicelog.config.settings import Settings
from voicelog.domain.signal import Talk
from voicelog.runtime.hearing import Hearing
from voicelog.runtime.launching import Wishes, bundled, launch
from voicelog.runtime.messages import (
    Closed,
    Message,
    Partial,
    SoundEnded,
    State,
    StateChanged,
    Took,
)

TARGETS = {"median": 0.3, "95 of 100": 0.6}
"""Seconds, on two cores."""


@dataclass
class Run:
    """What one inspection showed.

    Args:
        took: utterances taken.
        texts: moments at which a text of an open utterance was shown.
        spoke_s: seconds for which somebody was shown to be speaking.
        hears_since_s: since when somebody is; 0 while nobody is.
    """

    took: list[Took] = field(default_factory=list)
    texts: int = 0
    spoke_s: float = 0.0
    hears_since_s: float = 0.0


def play(rounds: int) -> Run:
    """The bundled recordings at the speed of life."""
    found, messages = Run(), Queue[Message]()
    with tempfile.TemporaryDirectory() as folder:
        settings = Settings(into=Path(folder), ear="built-in", voice="none", talk=Talk.TONES)
        wishes = Wishes(rehearse=True, recordings=bundled() * rounds)
        engine = launch(settings, wishes)
        engine.start(messages.put)
        for message in iter(messages.get, None):
            if isinstance(message, SoundEnded):
                engine.stop()
            if isinstance(message, Closed):
                break
            _note(found, message)
        engine.join()
    return found


def _note(found: Run, message: Message) -> None:
    match message:
        case Took() if message.parts:
            found.took.append(message)
        case Partial(text) if text:
            found.texts += 1
        case StateChanged(State.HEARING | State.READING):
            found.hears_since_s = found.hears_since_s or monotonic()
        case StateChanged() if found.hears_since_s:
            found.spoke_s += monotonic() - found.hears_since_s
            found.hears_since_s = 0.0


def without_decoding_ahead(rounds: int) -> Run:
    """The same, each utterance decoded only after its end was decided."""
    ahead = Hearing._decode_early
    Hearing._decode_early = _never  # type: ignore[method-assign]
    try:
        return play(rounds)
    finally:
        Hearing._decode_early = ahead  # type: ignore[method-assign]


def _never(_hearing: Hearing) -> None:
    """Wait for the decision."""


def delay_rows(ahead: Run, after: Run) -> Iterator[list[str]]:
    """The wait as a whole, and the ratio of the medians."""
    for name, value in (("median", statistics.median), ("95 of 100", _p95), ("longest", max)):
        cells = [f"{value([t.delay_s for t in run.took]):.3f} s" for run in (ahead, after)]
        yield [f"decision to tone, {name}", *cells, _target(name)]
    medians = [statistics.median(t.delay_s for t in run.took) for run in (ahead, after)]
    yield ["ratio of the medians", f"{medians[0] / medians[1]:.2f}", "1", ""]
    yield ["texts shown a second, while speaking",
           *(f"{run.texts / run.spoke_s:.1f}" for run in (ahead, after)), "≥ 2"]  # fmt: skip


def part_rows(ahead: Run, after: Run) -> Iterator[list[str]]:
    """What it was spent on: median and 95 of 100."""
    for name in ahead.took[0].parts:
        cells = []
        for run in (ahead, after):
            values = [t.parts[name] for t in run.took]
            cells.append(f"{1000 * statistics.median(values):.0f} / {1000 * _p95(values):.0f} ms")
        yield [name, *cells]


def _target(name: str) -> str:
    return f"≤ {TARGETS[name]} s" if name in TARGETS else ""


def _p95(values: Sequence[float]) -> float:
    return statistics.quantiles(values, n=20, method="inclusive")[-1]


def main() -> None:
    """Run it."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").split("\n")[0])
    parser.add_argument("--write", action="store_true", help="put the tables into the README")
    parser.add_argument("--rounds", type=int, default=1, help="play everything so many times")
    asked = parser.parse_args()
    manifest = json.loads((samples_dir() / "manifest.json").read_text(encoding="utf-8"))
    ahead, after = play(asked.rounds), without_decoding_ahead(asked.rounds)
    head = ["", "voicelog", "without decoding ahead"]
    text = "\n\n".join(
        (
            f"{machine(manifest)} {len(ahead.took)} utterances taken.",
            markdown([*head, "target"], list(delay_rows(ahead, after))),
            markdown(["median / 95 of 100", *head[1:]], list(part_rows(ahead, after))),
        )
    )
    print(text)
    if asked.write:
        page.write("latency", text)


if __name__ == "__main__":
    main()
