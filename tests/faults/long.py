"""Long inspections and long logs; run ``python tests/faults/long.py``.

Three measurements, all of them by default: ``hours`` (eight hours through the live engine: memory, open
files and latency, hour by hour), ``facts`` (a log of 100,000 facts opened by every command that opens
logs, each in a process of its own) and ``growth`` (what one more utterance costs beside a log of any
length). ``--against`` names another checkout, whose figures are put beside these, made in the same
run. ``--write`` puts each table between markers of its own in tests/faults/REPORT.md.
"""

from __future__ import annotations

import argparse
import json
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

import figures
import long_facts
import long_hours
import long_log
from figures import Row
from long_facts import Spent

PARTS = ("hours", "facts", "growth")
GROWTH_MB, LATENCY_PERCENT = 20.0, 20.0
"""Wanted of the hours: memory after the first, and the slowest hour's median against the first's."""

LENGTHS = (1, 1_000, 10_000, 100_000)
"""Facts of the logs beside which one more utterance is measured."""

_GROWTH = Path(__file__).with_name("long_growth.py")


def hours_rows(hours: float, utterances: int, one_in: int, seed: int) -> Iterator[Row]:
    """Eight hours, all in one process."""
    day = long_hours.day(hours, utterances, one_in, seed)
    taken, first = sum(hour.utterances for hour in day.hours), day.hours[0]
    by_ear = f"{day.by_ear} heard by the built-in ear, the others told to it; {day.lines} lines"
    whole = "verify is clean" if not day.problems else "; ".join(day.problems[:3])
    yield Row(f"{hours:g} hours of inspection", day.said, taken, f"{by_ear}, {whole}")
    sizes = [hour.memory_mb for hour in day.hours]
    grown = max(sizes) - sizes[0]
    told = f"after each hour {_each(sizes)} MB: {grown:+.0f} MB since the first{_fits(grown, GROWTH_MB)}"
    told += (
        f"; with what the C library keeps for later {_each([h.resident_mb for h in day.hours])} MB"
    )
    yield Row(
        "memory, hour by hour", len(sizes), sum(s - sizes[0] <= GROWTH_MB for s in sizes), told
    )
    waits = [hour.wait_ms for hour in day.hours]
    slower = 100 * (max(waits) / first.wait_ms - 1)
    told = f"median {_each(waits, 1)} ms of work: slowest {slower:+.0f} % of the first hour's"
    limit = first.wait_ms * (1 + LATENCY_PERCENT / 100)
    told += _fits(slower, LATENCY_PERCENT)
    yield Row("end of speech to tone", len(waits), sum(wait <= limit for wait in waits), told)
    files = [hour.files for hour in day.hours]
    told = f"open after each hour: {_each(files)}; {day.files_after:+d} when all was over"
    yield Row("files closed", len(files), sum(n <= files[0] for n in files), told)


def facts_rows(lines: int, seed: int, against: Path | None) -> Iterator[Row]:
    """Every command on one log."""
    with _log(lines, seed) as log, tempfile.TemporaryDirectory() as into, _own_cache():
        size = (log / "journal.jsonl").stat().st_size / 1e6
        yield Row("a log made to be opened", lines, lines, f"{size:.0f} MB of lines")
        for name, run in long_facts.opens(log).items():
            yield _opened(name, lines, _spent(run), _before(against, run), wanted=True)
        for name, run in long_facts.tells(log, Path(into)).items():
            yield _opened(name, lines, _spent(run), _before(against, run), wanted=False)


@contextmanager
def _own_cache() -> Iterator[None]:
    """What is remembered of logs is remembered for these measurements alone."""
    was = os.environ.get("XDG_CACHE_HOME")
    with tempfile.TemporaryDirectory() as cache:
        os.environ["XDG_CACHE_HOME"] = cache
        try:
            yield
        finally:
            os.environ.pop("XDG_CACHE_HOME")
            if was is not None:
                os.environ["XDG_CACHE_HOME"] = was


def _spent(run: long_facts.Run) -> Spent | None:
    """What a child took; None where it was waited for in vain."""
    try:
        return run()
    except subprocess.TimeoutExpired:
        return None


def _opened(name: str, lines: int, now: Spent | None, before: Spent | None, *, wanted: bool) -> Row:
    if now is None:
        return Row(f"`{name}`", lines, 0, f"not done in {long_facts.LIMIT_S:g} s")
    told = f"{now.seconds:.1f} s ({now.work_s:.1f} s of the processor), {now.peak_mb:.0f} MB at the peak"
    if before is not None:
        faster, less = before.work_s / now.work_s, before.peak_mb / now.peak_mb
        told += f"; before: {before.work_s:.1f} s, {before.peak_mb:.0f} MB ({faster:.1f}× and {less:.1f}×)"
    if wanted:
        told += "; in time" if now.work_s <= long_facts.OPENS_S else "; over the 2 s wanted"
        told += "" if now.peak_mb <= long_facts.OPENS_MB else "; over the 200 MB wanted"
    _progress(f"{name}: {told}")
    return Row(f"`{name}`", lines, lines, told)


def _before(against: Path | None, run: long_facts.Run) -> Spent | None:
    """The same by another checkout; None where there is none, or it takes too long."""
    if against is None:
        return None
    with _by(against):
        return _spent(run)


def growth_rows(lengths: Sequence[int], seed: int, against: Path | None) -> Iterator[Row]:
    """One more utterance beside logs of these lengths."""
    for lines in lengths:
        now, before = _grown(lines, seed), None
        if against is not None:
            with _by(against):
                before = _grown(lines, seed)
        told = _cost(now) + (f"; before: {_cost(before)}" if before else "")
        _progress(f"{lines} facts: {told}")
        yield Row(f"one more beside {lines:,} facts", 300, 300, told)


def _grown(lines: int, seed: int) -> dict[str, float]:
    with _log(lines, seed) as log:
        command = [sys.executable, str(_GROWTH), str(log)]
        told = subprocess.run(command, capture_output=True, timeout=900, check=True).stdout
        found: dict[str, float] = json.loads(told)
        return found


def _cost(cost: dict[str, float]) -> str:
    return (
        f"{cost['utterance_ms']:.1f} ms to the tone, {cost['answer_ms']:.1f} ms after it,"
        f" {cost['kilobytes']:.1f} kB; read back {cost['zone_ms']:.0f} ms, what is open"
        f" {cost['end_ms']:.0f} ms"
    )


@contextmanager
def _log(lines: int, seed: int) -> Iterator[Path]:
    folder = Path(tempfile.mkdtemp(prefix="voicelog-long-"))
    try:
        yield long_log.write_log(folder, lines, seed)
    finally:
        shutil.rmtree(folder, ignore_errors=True)


@contextmanager
def _by(checkout: Path) -> Iterator[None]:
    """Child processes run this checkout's program."""
    there = os.environ.get("PYTHONPATH")
    os.environ["PYTHONPATH"] = str(checkout)
    try:
        yield
    finally:
        os.environ.pop("PYTHONPATH")
        os.environ |= {"PYTHONPATH": there} if there else {}


def _each(numbers: Sequence[float], digits: int = 0) -> str:
    return ", ".join(f"{number:.{digits}f}" for number in numbers)


def _fits(found: float, most: float) -> str:
    return "" if found <= most else f" (over the {most:g} wanted)"


def _progress(text: str) -> None:
    print(text, file=sys.stderr, flush=True)


def main() -> None:
    """Run it."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--only", choices=PARTS, action="append", help="just this part")
    parser.add_argument("--hours", type=float, default=8.0, help="of sound [8]")
    parser.add_argument("--utterances", type=int, default=3200, help="said in them [3200]")
    parser.add_argument("--one-in", type=int, default=8, help="heard by the real ear [8]")
    parser.add_argument("--facts", type=int, default=100_000, help="of the long log [100000]")
    parser.add_argument("--against", type=Path, metavar="CHECKOUT", help="compare with this one")
    parser.add_argument("--seed", type=int, default=1909, help="of sentences and deeds [1909]")
    parser.add_argument("--write", action="store_true", help="into tests/faults/REPORT.md")
    asked = parser.parse_args()
    for part in asked.only or PARTS:
        rows, command = list(_rows(part, asked)), f"python tests/faults/long.py --only {part}"
        print(figures.text(command, rows), flush=True)
        if asked.write:
            figures.write(f"long-{part}", f"{command} --write", rows)


def _rows(part: str, asked: argparse.Namespace) -> Iterator[Row]:
    if part == "hours":
        return hours_rows(asked.hours, asked.utterances, asked.one_in, asked.seed)
    if part == "facts":
        return facts_rows(asked.facts, asked.seed, asked.against)
    lengths = [length for length in LENGTHS if length <= asked.facts]
    return growth_rows(lengths, asked.seed, asked.against)


if __name__ == "__main__":
    main()
