"""Kills inspections at seeded random moments; run ``python tests/faults/crash.py --kills 500``.

Each kill is a SIGKILL of a process that runs the engine of ``voicelog start``, or of ``voicelog hear``, on
recorded speech. Whatever the product had acknowledged by then was told to this program through a pipe;
afterwards everything is looked for: the fact with its words and its entries, its sound by its hash, the
log that opens and folds, ``verify`` without a word of damage. Then the inspection is gone on with by one
more utterance, spoken or typed, and all is looked for again. Three of four logs are killed more than once.

Some kills come from outside at a moment of the clock; others hit a chosen call to the disk, before it, in
the middle of a write, or after it. Loading the built-in ear takes seconds, so most children remember what
it heard in the same recordings; rows say which. ``--write`` puts the table into the report.
"""

from __future__ import annotations

import argparse
import random
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from crash_child import Walk, fork
from crash_ear import Known, as_written, known_from
from crash_harness import Harness, Log, words_of
from crash_tally import Tally
from figures import text, write

from voicelog.runtime.launching import bundled

Kind = tuple[str, float, Callable[[Harness, Tally], None]]


def _at_a_moment(harness: Harness, tally: Tally, *, known: bool) -> None:
    after = harness.chance.choice((None, 0, 0, 1, 1, 2, 3))
    harness.try_once(tally, lambda log: harness.walk(log, known), after, "clock")


def _in_a_call(harness: Harness, tally: Tally, *, opening: bool) -> None:
    def walk(log: Log) -> Walk:
        opened, end = harness.calls_of(log)
        at = (0, opened) if opening else (opened, end)
        return harness.walk(log, dies_at=harness.chance.randrange(*at))

    harness.try_once(tally, walk, None, "call")


KINDS: tuple[Kind, ...] = (
    ("live, built-in ear, at a moment", 0.08, lambda h, t: _at_a_moment(h, t, known=False)),
    ("`voicelog hear`, built-in ear, at a moment", 0.08, Harness.hear_once),
    ("live, texts heard before, at a moment", 0.30, lambda h, t: _at_a_moment(h, t, known=True)),
    (
        "live, texts heard before, in a write, sync or rename",
        0.40,
        lambda h, t: _in_a_call(h, t, opening=False),
    ),
    (
        "live, texts heard before, in a call to the disk while the log opens",
        0.14,
        lambda h, t: _in_a_call(h, t, opening=True),
    ),
)
"""What is killed, its share of all kills, and how."""


def run(kills: int, seed: int, folder: Path, known: Known, only: str = "") -> list[Tally]:
    """Kills so many, kind by kind.

    Args:
        kills: in all.
        seed: of everything that is drawn.
        folder: where logs go.
        known: what the ear heard before.
        only: a part of the name of the kinds to try; empty for all.
    """
    harness = Harness(random.Random(seed), folder, known)
    harness.measure()
    kinds = [kind for kind in KINDS if only in kind[0]]
    share = sum(kind[1] for kind in kinds)
    tallies = []
    for what, part, once in kinds:
        tally = Tally(what)
        tallies.append(tally)
        harness.log = None
        while tally.kills < max(1, round(kills * part / share)):
            once(harness, tally)
            _progress(tallies)
    return tallies


def _progress(tallies: list[Tally]) -> None:
    kills, lost = sum(t.kills for t in tallies), sum(len(t.faults) for t in tallies)
    if kills % 10 == 0:
        print(f"{kills} kills, {lost} faults: {tallies[-1].what}", file=sys.stderr, flush=True)


def hear_all(file: Path) -> None:
    """Has the built-in ear hear every recording, in a process of its own."""
    with tempfile.TemporaryDirectory() as folder:
        child = fork(Walk(Path(folder), bundled(), noted=file))
        if child.end():
            raise SystemExit("the built-in ear cannot be used here")


def main() -> None:
    """Run it."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--kills", type=int, default=500, help="in all [500]")
    parser.add_argument("--seed", type=int, default=20260314, help="of every moment [20260314]")
    parser.add_argument("--only", default="", help="kinds whose name holds this")
    parser.add_argument(
        "--as-written",
        action="store_true",
        help="remember the words as written, not as heard: quick",
    )
    parser.add_argument("--write", action="store_true", help="put the table into the report")
    asked = parser.parse_args()
    begun = time.monotonic()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name).resolve()
        written = as_written(words_of()) if asked.as_written else None
        known = written or known_from(folder / "heard.json", hear_all)
        tallies = run(asked.kills, asked.seed, folder, known, asked.only)
    rows = [tally.row for tally in tallies]
    command = f"python tests/faults/crash.py --kills {asked.kills} --seed {asked.seed}"
    command += " --as-written" if asked.as_written else ""
    print(text(command, rows))
    print(f"{time.monotonic() - begun:.0f} s")
    if asked.write:
        write("crash", command, rows)
    if faults := [fault for tally in tallies for fault in tally.faults]:
        raise SystemExit("\n".join(faults))


if __name__ == "__main__":
    main()
