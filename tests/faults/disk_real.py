"""The system's own refusals: a small disk, a limit on file sizes, a disk without writing, /dev/full."""

from __future__ import annotations

import os
import resource
import shutil
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from disk_cases import BEGINS_AFTER, Bench
from disk_live import Lived, live
from figures import Row

from voicelog.config.settings import Settings
from voicelog.errors import StorageFault
from voicelog.journal.journal import Journal
from voicelog.journal.reading import read_log, verify
from voicelog.runtime.review import Review

SMALL, LARGER = "size=900k", "size=8m"
LEAST_BYTES = 1024
"""No larger may a file become."""


def small_disk(bench: Bench) -> Iterator[Row]:
    """A memory disk that is full of clips after a while, and is then given more room."""
    what = "a small disk, really full (tmpfs), then given room"
    with _mounted(bench.into(what), SMALL) as disk:
        if disk is None:
            yield Row(what, 0, 0, "needs the right to mount")
            return
        refused = list[bool]()

        def watch(lived: Lived, took: int) -> None:
            if lived.refused and not refused:
                refused.append(True)
                _mount("-o", f"remount,{LARGER}", disk)

        filler = disk / "other"
        into = disk / "logs"
        into.mkdir()
        filler.write_bytes(bytes(300 * 1024))
        lived = live(into, bench.recordings, bench.known, watch=watch)
        yield bench.row(what, lived, () if refused else ("it was never full",))


def read_only(bench: Bench) -> Iterator[Row]:
    """A disk that may only be read: the log can be looked at, neither gone on with nor begun."""
    what = "a disk that may only be read (tmpfs)"
    with _mounted(bench.into(what), LARGER) as disk:
        if disk is None:
            yield Row(what, 0, 0, "needs the right to mount")
            return
        lived = live(disk, bench.recordings[:2], bench.known)
        (folder,) = (path for path in disk.iterdir() if path.is_dir())
        _mount("-o", "remount,ro", disk)
        wrong, told = list(lived.faults), list[str]()
        for refused in (
            lambda: Journal.reopen(folder),
            lambda: Journal.create(disk, opened={}, grammar={}),
        ):
            try:
                refused()  # type: ignore[no-untyped-call]
                wrong.append("it was written to")
            except StorageFault as fault:
                told.append(str(fault))
        with Review.open(folder, Settings()) as review:
            told.append(f"review: {review.read_only}")
        wrong += [] if verify(folder).ok and read_log(folder).facts else ["it cannot be read"]
        yield Row(
            what,
            1,
            int(not wrong),
            f"{'; '.join(wrong)} sees: {'; '.join(dict.fromkeys(told))}".strip(),
        )


def file_limit(bench: Bench) -> Row:
    """The system takes what fits into a limit on file sizes and refuses the rest."""
    what = f"no file beyond {LEAST_BYTES} bytes (RLIMIT_FSIZE), then no limit"
    _, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    refused = list[bool]()

    def watch(lived: Lived, took: int) -> None:
        if lived.refused:
            refused.append(True)
            resource.setrlimit(resource.RLIMIT_FSIZE, (hard, hard))
        elif took == BEGINS_AFTER and not refused:
            resource.setrlimit(resource.RLIMIT_FSIZE, (LEAST_BYTES, hard))

    try:
        lived = live(bench.into(what), bench.recordings, bench.known, watch=watch)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (hard, hard))
    return bench.row(what, lived, () if refused else ("nothing was refused",))


def full_output(bench: Bench) -> Row:
    """What is shown goes to /dev/full: the program ends, and its log is whole."""
    what = "standard output to /dev/full (`voicelog read`)"
    into = bench.into(what)
    said = ["read", "left sill, surface rust", "--into", str(into)]
    with open("/dev/full", "w") as full:  # noqa: PTH123
        ran = _voicelog(said, stdout=full)
    wrong = [problem for folder in into.iterdir() for problem in verify(folder).problems]
    wrong += [] if ran.returncode == 7 else [f"exit {ran.returncode}"]
    return Row(
        what, 1, int(not wrong), f"{'; '.join(wrong)} sees: {ran.stderr.strip()} (exit 7)".strip()
    )


def second_writer(bench: Bench) -> Row:
    """Other programs that would write while an inspection runs."""
    what = "a second writer: start --resume, sign, erase, while an inspection runs"
    into, wrong, told = bench.into(what), list[str](), list[str]()

    def watch(lived: Lived, took: int) -> None:
        if took == 1 and not told:
            (folder,) = into.iterdir()
            for words in (
                [
                    "start",
                    "--resume",
                    str(folder),
                    "--rehearse",
                    str(bench.recordings[0]),
                    "--plain",
                ],
                ["sign", str(folder), "--by", "Kim"],
                ["erase", str(folder), "--inspection", "--yes"],
            ):
                ran = _voicelog(words)
                told.append(f"{words[0]}: {ran.stderr.strip().splitlines()[-1]}")
                wrong.extend([] if ran.returncode else [f"{words[0]} was let in"])

    lived = live(into, bench.recordings, bench.known, watch=watch)
    row = bench.row(what, lived, tuple(wrong), "; ".join(told))
    return row._replace(
        tried=len(told), came_through=len(told) - len(wrong) if row.came_through else 0
    )


def _voicelog(words: list[str], **how: object) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "voicelog", *words]
    streams = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE} | how
    return subprocess.run(command, text=True, check=False, timeout=120, **streams)  # type: ignore[call-overload,no-any-return]


@contextmanager
def _mounted(at: Path, how: str) -> Iterator[Path | None]:
    """A memory disk; None where nobody lets this program mount one."""
    if not (shutil.which("mount") and os.geteuid() == 0) or not _mount(
        "-t", "tmpfs", "-o", how, "tmpfs", at
    ):
        yield None
        return
    try:
        yield at
    finally:
        subprocess.run(["umount", "-l", str(at)], check=False)


def _mount(*how: object) -> bool:
    return (
        subprocess.run(["mount", *map(str, how)], check=False, capture_output=True).returncode == 0
    )
