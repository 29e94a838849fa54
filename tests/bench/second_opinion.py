"""What a second ear costs while somebody inspects; run ``python tests/bench/second_opinion.py``.

The bundled recordings are played at real speed into the engine that ``voicelog start`` runs, as
``latency.py`` does: without the second ear, with it as it is, and with it kept at work by every
utterance, which is the worst that can happen. Needs the extra ``second-ear``.
"""

from __future__ import annotations

import statistics
import tempfile
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from queue import Queue

from shares import markdown
from teaching import parser

from voicelog.config.settings import Settings
from voicelog.domain.opinion import Opinion
from voicelog.domain.signal import Talk
from voicelog.runtime.launching import Wishes, bundled, launch
from voicelog.runtime.messages import Closed, HeardAgain, Message, SoundEnded, Took
from voicelog.runtime.second_opinion import UNSAFE
from voicelog.runtime.understanding import Understanding


@dataclass
class Run:
    """What one inspection showed."""

    took: list[Took] = field(default_factory=list)
    opinions: list[Opinion] = field(default_factory=list)


def play(recordings: tuple[Path, ...], second_ear: str) -> Run:
    """The recordings at the speed of life."""
    found, messages = Run(), Queue[Message]()
    with tempfile.TemporaryDirectory() as folder:
        settings = Settings(
            into=Path(folder), ear="built-in", voice="none", talk=Talk.TONES, second_ear=second_ear
        )
        engine = launch(settings, Wishes(rehearse=True, recordings=recordings))
        engine.start(messages.put)
        for message in iter(messages.get, None):
            match message:
                case SoundEnded():
                    engine.stop()
                case Took() if message.parts:
                    found.took.append(message)
                case HeardAgain():
                    found.opinions.append(message.opined.opinion)
                case Closed():
                    break
        engine.join()
    return found


def always_asked(recordings: tuple[Path, ...]) -> Run:
    """Every utterance is worth asking about."""
    reason = Understanding.reason
    Understanding.reason = lambda _self, _reading, _findings: UNSAFE  # type: ignore[method-assign]
    try:
        return play(recordings, "auto")
    finally:
        Understanding.reason = reason  # type: ignore[method-assign]


def rows(runs: dict[str, Run]) -> Iterator[list[str]]:
    """Decision to tone, the built-in ear's own time, and what the second ear did."""
    for name, run in runs.items():
        delays = [took.delay_s for took in run.took]
        ear = [took.parts["ear, before the decision"] + took.parts["ear"] for took in run.took]
        worked = [opinion.took_s for opinion in run.opinions if opinion.heard is not None]
        verdicts = Counter(str(opinion.verdict) for opinion in run.opinions)
        yield [
            name, f"{statistics.median(delays):.3f} / {_p95(delays):.3f} s",
            f"{statistics.median(ear):.3f} s",
            f"{statistics.median(worked):.2f} s" if worked else "",
            ", ".join(f"{count} {verdict}" for verdict, count in sorted(verdicts.items())),
        ]  # fmt: skip


def _p95(values: list[float]) -> float:
    return statistics.quantiles(values, n=20, method="inclusive")[-1]


def main() -> None:
    """Run it."""
    asks = parser(__doc__)
    asks.add_argument("--first", type=int, default=0, help="play only the first so many")
    asked = asks.parse_args()
    recordings = bundled()[: asked.first or None]
    runs = {
        "one ear": play(recordings, "off"),
        "a second ear, as it is": play(recordings, "auto"),
        "a second ear, asked about everything": always_asked(recordings),
    }
    head = [
        "", "decision to tone, median / 95 of 100", "built-in ear, median", "second ear, median",
        "verdicts",
    ]  # fmt: skip
    print(markdown(head, list(rows(runs))))


if __name__ == "__main__":
    main()
