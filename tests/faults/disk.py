"""Disks that fail under an inspection; run ``python tests/faults/disk.py``.

Three kinds of trials. *At every call in turn*: a whole inspection of three utterances, once for each call to
the disk that it makes, with that call refused, half done, or the last one of a program that is killed there;
at the end the power is cut on a disk that has only what was synced, and forgets what a failed sync should
have written. *Live*: the engine of ``voicelog start`` on recorded speech, with an ear that remembers what it
heard, on a disk that refuses for a while; told is what the person heard and saw. *Real*: the system's own
refusals (a small memory disk, for which it has to run as root, a limit on file sizes, /dev/full).
"""

from __future__ import annotations

import argparse
import errno
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

import disk_cases
import disk_order
import disk_real
from crash import hear_all
from crash_ear import known_from
from crash_harness import recordings
from disk_cases import Bench
from disk_happens import die_before, die_of_a_failed_sync, die_within, refuse, take_half
from disk_turns import at_every_call
from figures import Row, text, write

from voicelog.config.grammar import load_grammar

TURNS = (
    ("no space", refuse(errno.ENOSPC), False),
    ("I/O error", refuse(errno.EIO), False),
    ("I/O error, and gone on with", refuse(errno.EIO), True),
    ("a write takes half", take_half, False),
    ("power cut", die_before, False),
    ("killed, gone on with", die_before, True),
    ("killed within the call, gone on with", die_within, True),
    ("a sync fails and the program is killed, gone on with", die_of_a_failed_sync, True),
)
"""What happens at every call in turn, and whether one more utterance follows."""


def turns(folder: Path) -> Iterator[Row]:
    """At every call in turn; a memory disk as base, where there is one, for nothing here needs a real one."""
    grammar = load_grammar()
    for what, happens, reopen in TURNS:
        begun = time.monotonic()
        tried, wrong = at_every_call(folder / "turns", grammar, happens, reopen=reopen)
        lost = {fault.partition(":")[0] for fault in wrong}
        note = "; ".join(wrong[:3]) or "then the power is cut: everything acknowledged is there"
        yield Row(f"at every call in turn: {what}", tried, tried - len(lost), note)
        print(f"{what}: {time.monotonic() - begun:.0f} s", file=sys.stderr, flush=True)


def cases(bench: Bench) -> Iterator[Row]:
    """Live and real."""
    yield from disk_cases.failing(bench)
    yield disk_cases.to_the_end(bench)
    yield disk_cases.short(bench)
    yield disk_cases.slow(bench)
    yield from disk_real.small_disk(bench)
    yield from disk_real.read_only(bench)
    yield disk_real.file_limit(bench)
    yield disk_real.full_output(bench)
    yield disk_real.second_writer(bench)
    yield from disk_order.without_locks(bench)
    yield disk_order.clock_set_back(bench)


def briefly(rows: list[Row]) -> list[Row]:
    """The same rows; what was heard in an earlier one is not told word for word again."""
    first: dict[str, str] = {}
    told = []
    for row in rows:
        hears, sees, rest = row.note.partition("; sees: ")
        before = first.setdefault(hears, row.what)
        known = sees and hears.startswith("hears: tone") and before != row.what
        told.append(row._replace(note=f"hears: as at “{before}”{sees}{rest}") if known else row)
    return told


def main() -> None:
    """Run it."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--only", choices=["turns", "cases"], help="one half of it")
    parser.add_argument("--write", action="store_true", help="put the table into the report")
    asked = parser.parse_args()
    rows: list[Row] = []
    memory = "/dev/shm" if Path("/dev/shm").is_dir() else None  # noqa: S108
    with tempfile.TemporaryDirectory() as name, tempfile.TemporaryDirectory(dir=memory) as quick:
        folder = Path(name).resolve()
        if asked.only != "turns":
            known = known_from(folder / "heard.json", hear_all)
            for row in cases(Bench(folder, recordings()[:6], known)):
                rows.append(row)
                print(
                    f"{row.came_through}/{row.tried} {row.what}: {row.note}",
                    file=sys.stderr,
                    flush=True,
                )
        if asked.only != "cases":
            rows += turns(Path(quick).resolve())
    rows = briefly(rows)
    command = "python tests/faults/disk.py"
    print(text(command, rows))
    if asked.write:
        write("disk", command, rows)
    if any(row.came_through < row.tried for row in rows):
        raise SystemExit("something acknowledged was lost, or not told")


if __name__ == "__main__":
    main()
