"""Hostile input, tried against every command: what was tried, what came through, at what cost.

    python tests/faults/hostile.py                     everything; some fifteen minutes at rest
    python tests/faults/hostile.py texts folders       only these families
    python tests/faults/hostile.py --seed 7 --odd 300  other values in other places
    python tests/faults/hostile.py --write             the table goes into tests/faults/REPORT.md

*Came through* means: the program ended by itself with a code that it documents, took at most ten
seconds and 512 MiB, showed nothing that could steer a terminal, a browser, a spreadsheet or a
player, and touched no file that is none of its business.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import NamedTuple

_HERE = Path(__file__).parent
sys.path[:0] = [str(_HERE), str(_HERE / "hostile")]

import figures  # noqa: E402
import hostile_folders as folders  # noqa: E402
import hostile_logs as logs  # noqa: E402
from hostile_commands import PAGES, READING, WRITING, Tried  # noqa: E402
from hostile_files import FILES  # noqa: E402
from hostile_lines import odd_lines  # noqa: E402
from hostile_outputs import markup  # noqa: E402
from hostile_pictures import plain as plain_picture  # noqa: E402
from hostile_run import Runner, running  # noqa: E402
from hostile_strings import STRINGS, WHOLE  # noqa: E402
from hostile_toml import BOMBS  # noqa: E402


class Bench(NamedTuple):
    """What the families share.

    Args:
        runner: runs commands.
        honest: a log that means no harm.
        marks: the markup of a report about it.
        seed: of what is drawn.
        odd: how many misshapen lines are drawn.
    """

    runner: Runner
    honest: Path
    marks: set[str]
    seed: int
    odd: int

    @property
    def evil(self) -> Path:
        """Where the hostile log goes."""
        return self.runner.home / "given" / "20260314T080530Z-evil"


def _texts(bench: Bench) -> Iterator[figures.Row]:
    """Each text wherever the contract takes text; all together through the commands that write."""
    commands = {"text: all of them": (*READING, *PAGES, *WRITING)}
    some = [command for command in READING if command[0] in ("why", "review", "export")]
    made = ((name, _altered(bench, change)) for name, change in logs.TEXTS.items())
    yield _tried(bench, "a log whose texts mean harm", made, lambda name: commands.get(name, some))


def _titles(bench: Bench) -> Iterator[figures.Row]:
    """The same in the log's own map and rules."""
    texts = {"all of them": WHOLE, **STRINGS}
    made = ((name, _titled(bench, text)) for name, text in texts.items())
    some = [
        command for command in READING if command[0] in ("why", "work") and "--json" not in command
    ]
    commands = {"all of them": (*READING, *PAGES)}
    what = "a log whose map and rules mean harm"
    yield _tried(bench, what, made, lambda name: commands.get(name, some))


def _names(bench: Bench) -> Iterator[figures.Row]:
    """Names of files that lead out of the log."""
    made = ((name, _altered(bench, change)) for name, change in logs.NAMES.items())
    what = "a log with files above, beside and outside of it"
    some = [command for command in READING if command[0] in ("verify", "list", "export", "recover")]
    yield _tried(bench, what, made, lambda _: (*some, *WRITING[-2:]))


def _bytes(bench: Bench) -> Iterator[figures.Row]:
    """A journal that is no journal."""
    made = ((name, _damaged(bench, change)) for name, change in logs.BYTES.items())
    yield _tried(bench, "JSON bombs and other bytes in a journal", made, lambda _: READING)


def _folders(bench: Bench) -> Iterator[figures.Row]:
    """Links, pipes and devices in the log's folder; a file beside it must stay as it is."""
    made = ((name, _rigged(bench, change)) for name, change in folders.FOLDERS.items())
    what = "links, pipes, devices and 64 GB files in a log's folder"
    yield _tried(bench, what, made, lambda _: (*READING, *WRITING))


def _stored(bench: Bench) -> Iterator[figures.Row]:
    """TOML bombs as the log's copy of the grammar, their hash in the log."""
    made = ((name, _with_bomb(bench, raw)) for name, raw in BOMBS.items() if "called" not in name)
    yield _tried(bench, "TOML bombs as a log's copy of the words", made, lambda _: READING[:4])


def _lines(bench: Bench) -> Iterator[figures.Row]:
    """Every value of every line replaced: refused, or folded, exported and shown."""
    tried, fits, wrong = odd_lines(bench.honest, bench.seed, bench.odd)
    note = f"{tried - fits} refused by the schema, {fits} fit it and were folded and exported"
    yield figures.Row(
        "misshapen values in a journal's lines", tried, tried - len(wrong), _noted(note, wrong)
    )


def _files(bench: Bench) -> Iterator[figures.Row]:
    """Recordings, pictures, settings and words as files of their own."""
    for what, tries in FILES.items():
        print(f"  {what}", file=sys.stderr, flush=True)
        count, wrong, slowest_s, most_mib = tries(bench.runner, bench.honest)
        note = _noted(f"at most {slowest_s:.1f} s, {most_mib:.0f} MiB", wrong)
        yield figures.Row(what, count, count - len(wrong), note)


FAMILIES: Mapping[str, Callable[[Bench], Iterator[figures.Row]]] = {
    "texts": _texts, "titles": _titles, "names": _names, "bytes": _bytes, "folders": _folders,
    "stored": _stored, "lines": _lines, "files": _files,
}  # fmt: skip


def _tried(
    bench: Bench,
    what: str,
    made: Iterator[tuple[str, Path]],
    commands: Callable[[str], Sequence[tuple[str, ...]]],
) -> figures.Row:
    tried, wrong, count = Tried(bench.runner, bench.honest, bench.marks), list[str](), 0
    victim = bench.runner.home / "victim.txt"
    for name, log in made:
        print(f"  {what}: {name}", file=sys.stderr, flush=True)
        folders.victim(bench.runner.home)
        count += 1
        faults = tried.faults(log, commands(name))
        if victim.read_text() != folders.VICTIM:
            faults.append("a file beside the log was written over")
        wrong += [f"{name}: {faults[0]}"] if faults else []
    note = f"{tried.runs:,} commands; at most {tried.worst_s:.1f} s, {tried.worst_mib:.0f} MiB"
    return figures.Row(what, count, count - len(wrong), _noted(note, wrong))


def _noted(note: str, wrong: Sequence[str]) -> str:
    for one in wrong:
        print(f"  WRONG {one}", file=sys.stderr, flush=True)
    told = "; ".join(one.replace("|", "/")[:120] for one in wrong[:3])
    return f"{note}; wrong: {told}" if wrong else note


def _altered(bench: Bench, change: Callable[[logs.Lines], None]) -> Path:
    return logs.altered(bench.honest, bench.evil, change)


def _titled(bench: Bench, text: str) -> Path:
    log = logs.copied(bench.honest, bench.evil)
    logs.with_titles(log, text)
    return log


def _damaged(bench: Bench, change: Callable[[Path], None]) -> Path:
    log = logs.copied(bench.honest, bench.evil)
    change(log)
    return log


def _rigged(bench: Bench, change: Callable[[Path, Path], None]) -> Path:
    log = logs.copied(bench.honest, bench.evil)
    change(log, bench.runner.home / "victim.txt")
    return log


def _with_bomb(bench: Bench, raw: Callable[[], bytes]) -> Path:
    log = logs.copied(bench.honest, bench.evil)
    logs.with_grammar(log, "words/talk.toml", raw())
    return log


def main() -> None:
    """Try the families, print their table, and put it into the report where asked to."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("families", nargs="*", metavar="FAMILY", help=", ".join(FAMILIES))
    parser.add_argument("--seed", type=int, default=1, help="of the misshapen lines [1]")
    parser.add_argument("--odd", type=int, default=2_000, help="misshapen lines tried [2000]")
    parser.add_argument("--write", action="store_true", help="put the table into REPORT.md")
    asked = parser.parse_args()
    if unknown := set(asked.families) - set(FAMILIES):
        parser.error(f"no such family: {', '.join(sorted(unknown))}")
    begun = time.monotonic()
    rows = list(_rows(asked.families or list(FAMILIES), asked.seed, asked.odd))
    command = f"python tests/faults/hostile.py --seed {asked.seed} --write"
    print(figures.text(command, rows), f"\n{time.monotonic() - begun:.0f} s", sep="\n")
    if asked.write:
        figures.write("hostile", command, rows)
    sys.exit(any(row.tried != row.came_through for row in rows))


def _rows(families: Sequence[str], seed: int, odd: int) -> Iterator[figures.Row]:
    with tempfile.TemporaryDirectory() as folder, running(Path(folder)) as runner:
        honest = logs.honest(Path(folder) / "honest")
        (Path(folder) / "pictures").mkdir()
        (Path(folder) / "pictures" / "IMG_1.jpg").write_bytes(plain_picture())
        marks = markup(runner("export", honest, "--to", "html").out)
        bench = Bench(runner, honest, marks, seed, odd)
        for family in families:
            print(family, file=sys.stderr, flush=True)
            for row in FAMILIES[family](bench):
                print(*row, sep=" · ", file=sys.stderr, flush=True)
                yield row


if __name__ == "__main__":
    main()
