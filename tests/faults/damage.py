"""Damaged logs: what is named, what is read, what is recovered.

Run ``python tests/faults/damage.py`` (``--each 20`` for a first look, ``--write`` for the report).
Real logs are damaged in every way that a disk, a transfer, an editor or a person knows, each case by
a seed of its own: ``--only "one bit" --case 17`` tells all about a single one.
"""

from __future__ import annotations

import argparse
import shutil
import sys
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from random import Random
from time import monotonic

import damage_files as files
import damage_lines as lines
import damage_rewritten as anew
import figures
from damage_counted import Counted
from damage_grammars import checked_once
from damage_logs import Original, originals
from damage_trial import tried


@dataclass(frozen=True, slots=True)
class Kind:
    """One way to damage a log.

    Args:
        what: in words, as the report has it.
        journal: what it makes of the journal.
        file: what it does to other files.
        shows: it can always be seen.
        tail: it may leave a last line that says something else.
        forged: it may leave any line that says something else.
        note: why it cannot be seen, where that is so.
    """

    what: str
    journal: lines.Damage | None = None
    file: files.Damage | None = None
    shows: bool = True
    tail: bool = False
    forged: bool = False
    note: str = ""


_LAST = "nothing vouches for the last line but a copy of its hash kept elsewhere"
_SHORT = "shows by clips and pictures of later lines; else it reads as a shorter, unfinished log"
_FORGED = (
    "named where the log was signed; else nothing but a copy of a hash kept elsewhere can tell"
)

KINDS = (
    Kind("torn within a line", lines.torn),
    Kind("cut after a whole line", lines.cut_clean, shows=False, note=_SHORT),
    Kind("one bit turned over", lines.one_bit),
    Kind("2 to 64 bits turned over", lines.some_bits),
    Kind("one bit of the last line", lines.bit_in_last, shows=False, tail=True, note=_LAST),
    Kind("lines doubled", lines.doubled),
    Kind("lines in another order", lines.moved),
    Kind("lines taken out", lines.gone),
    Kind("lines of another log between", lines.mixed_in),
    Kind("lines of another log instead", lines.instead),
    Kind("two programs went on with it", anew.two_tails),
    Kind("the beginning of another log", anew.another_head),
    Kind("sectors of zeros", lines.zeroed),
    Kind("zeros from somewhere on", lines.zero_tail),
    Kind("sectors lost", lines.sector_lost),
    Kind("a sector of elsewhere", lines.sector_stale),
    Kind("rewritten by an editor or a tool", anew.rewritten),
    Kind("a line says something milder", anew.told_otherwise),
    Kind("the same, every later hash anew", anew.forged, shows=False, forged=True, note=_FORGED),
    Kind("the opening line altered", anew.header_altered),
    Kind("the opening line gone", anew.header_gone),
    Kind("clips swapped", file=files.swapped("clips")),
    Kind("clips missing", file=files.missing("clips")),
    Kind("a clip cut or altered", file=files.altered("clips")),
    Kind("pictures swapped", file=files.swapped("photos")),
    Kind("pictures missing", file=files.missing("photos")),
    Kind("a picture cut or altered", file=files.altered("photos")),
    Kind("erased sound back again", file=files.erased_again_there),
    Kind("its grammar altered", file=files.grammar_altered),
    Kind("its rules made milder", file=files.rules_softened),
)  # fmt: skip


def run(kind: Kind, logs: Sequence[Original], seed: int, cases: Sequence[int]) -> Counted:
    """Damages the logs in turn, each case by a seed of its own."""
    counted = Counted()
    for case in cases:
        chance = Random(f"{seed} {kind.what} {case}")
        with tempfile.TemporaryDirectory() as parent:
            original, folder = _one_damaged(kind, logs, case, Path(parent), chance)
            outcome = tried(original, folder, shows=kind.shows, tail=kind.tail, forged=kind.forged)
            counted.take(outcome, len(original.lines))
    return counted


def _one_damaged(
    kind: Kind, logs: Sequence[Original], case: int, parent: Path, chance: Random
) -> tuple[Original, Path]:
    """A damaged copy of a log, of the next one where that has nothing of the kind."""
    for further in range(len(logs) * 3):
        original = logs[(case + further) % len(logs)]
        folder = parent / str(further) / original.folder.name
        shutil.copytree(original.folder, folder)
        if _damaged(kind, original, folder, chance):
            return original, folder
    raise SystemExit(f"No log can be damaged so: {kind.what}")


def _damaged(kind: Kind, original: Original, folder: Path, chance: Random) -> bool:
    """Damages a copy; False where this log has nothing of the kind."""
    if kind.file is not None:
        return kind.file(folder, chance)
    assert kind.journal is not None
    text = kind.journal(original.lines, original.foreign, chance)
    (folder / "journal.jsonl").write_bytes(text)
    return text != original.text


def _rows(arguments: argparse.Namespace, logs: Sequence[Original]) -> Iterator[figures.Row]:
    cases = range(arguments.each) if arguments.case is None else [arguments.case]
    for kind in KINDS:
        if arguments.only and kind.what != arguments.only:
            continue
        began = monotonic()
        counted = run(kind, logs, arguments.seed, cases)
        row = figures.Row(kind.what, counted.tried, counted.held, counted.note(kind.note))
        print(f"{monotonic() - began:5.0f} s  {' | '.join(map(str, row))}", file=sys.stderr)
        for wrong, times in counted.wrong.most_common():
            print(f"         {times} times: {wrong}", file=sys.stderr)
        yield row


def main() -> None:
    """Damage logs, print the table, and put it into the report when asked to."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seed", type=int, default=1, help="another seed damages otherwise [1]")
    parser.add_argument("--each", type=int, default=200, help="cases of each kind [200]")
    parser.add_argument("--only", help="one kind, by its name in the table")
    parser.add_argument("--case", type=int, help="one case of each kind, by its number")
    parser.add_argument(
        "--write", action="store_true", help="put the table into tests/faults/REPORT.md"
    )
    arguments = parser.parse_args()
    with tempfile.TemporaryDirectory() as parent, checked_once():
        print("making the logs", file=sys.stderr)
        rows = list(_rows(arguments, originals(Path(parent))))
    command = f"python tests/faults/damage.py --seed {arguments.seed} --each {arguments.each}"
    print(figures.text(command, rows))
    if arguments.write:
        figures.write("damage", command, rows)


if __name__ == "__main__":
    main()
