"""Files of their own that somebody could hand over: recordings, pictures, settings, words, names."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import suppress
from pathlib import Path

import hostile_logs as logs
from hostile_commands import bounds
from hostile_outputs import steering
from hostile_pictures import BOMBS as PICTURES
from hostile_pictures import plain
from hostile_run import Outcome, Runner
from hostile_sounds import LYING
from hostile_strings import STRINGS, encodable, long_text, utterable
from hostile_toml import BOMBS

Counts = tuple[int, list[str], float, float]
"""How many were tried, what went wrong, the most seconds, and the most memory in MiB."""

Outcomes = Iterator[tuple[str, Outcome]]


def _counted(outcomes: Iterable[tuple[str, Outcome]]) -> Counts:
    count, wrong, slowest_s, most_mib = 0, list[str](), 0.0, 0.0
    for name, outcome in outcomes:
        count += 1
        slowest_s = max(slowest_s, outcome.took_s)
        most_mib = max(most_mib, outcome.peak_mib)
        fault = bounds(outcome) or steering(outcome.out + outcome.err)
        wrong += [f"{name}: {fault}"] if fault else []
    return count, wrong, slowest_s, most_mib


def _recordings(run: Runner, _: Path) -> Outcomes:
    """As a file, and as a pipe."""
    path = run.home / "walk.wav"
    for name, make in LYING.items():
        path.write_bytes(make())
        yield name, run("decode", path)
        yield f"{name}, piped", run("decode", "-", given=path)


def _pictures(run: Runner, honest: Path) -> Outcomes:
    """Matched by hand, kept without its place, and shown in a report."""
    for name, make in PICTURES.items():
        folder = _emptied(run.home / "given pictures")
        (folder / "IMG_1.jpg").write_bytes(make())
        log = logs.copied(honest, run.home / "given" / "log")
        yield name, run("photos", log, folder, "--yes", "--unmatched", "--entry", "e2.1=IMG_1.jpg")
        shown = run("export", log, "--to", "html", "-o", run.home / "report.html")
        yield f"{name}, shown", shown


def _emptied(folder: Path) -> Path:
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir()
    return folder


def _names(run: Runner, honest: Path) -> Outcomes:
    """Pictures, folders of pictures and logs under names that mean harm."""
    for name, text in STRINGS.items():
        written = encodable(text).replace("/", "\u2215")[:80]
        folder = _emptied(run.home / "given pictures")
        with suppress(OSError):
            (folder / f"{written}.jpg").write_bytes(plain())
            (folder / written).mkdir()
            (folder / written / "IMG_2.jpg").write_bytes(plain())
        log = logs.copied(honest, run.home / "given" / written)
        yield name, run("photos", log, folder, "--dry-run", "--unmatched")
        yield f"{name}, listed", run("list", run.home / "given")
        yield f"{name}, exported", run("export", log, "-o", run.home / "given" / f"{written}.html")
        shutil.rmtree(run.home / "given")


def _special(run: Runner, honest: Path) -> Outcomes:
    """Links, pipes, devices and folders among the pictures, and as what commands are given."""
    folder = _emptied(run.home / "given pictures")
    os.mkfifo(folder / "pipe.jpg")
    (folder / "device.jpg").symlink_to("/dev/zero")
    (folder / "link.jpg").symlink_to("/etc/passwd")
    (folder / "round").symlink_to(folder)
    (folder / "folder.jpg").mkdir()
    yield "pictures", run("photos", honest, folder, "--dry-run", "--unmatched")
    for path in ("/dev/zero", "/dev/full", "/etc/passwd", folder, "/proc/self/mem", "x\udc80"):
        yield f"words {path!s:.20}", run("read", "crack", "--words", path)
        yield f"map {path!s:.20}", run("read", "crack", "--map", f"{path}")
        yield f"log {path!s:.20}", run("verify", path)
        yield f"exported to {path!s:.20}", run("export", honest, "--to", "csv", "-o", f"{path}/x")
    for path in (folder, "/etc/passwd", "/dev/null", "/proc/self/mem"):
        yield f"recording {path!s:.20}", run("decode", path)


def _settings(run: Runner, _: Path) -> Outcomes:
    path = run.home / "config" / "voicelog" / "settings.toml"
    path.parent.mkdir(parents=True, exist_ok=True)
    for name, make in BOMBS.items():
        path.write_bytes(make())
        yield name, run("read", "left sill, hole")
    path.unlink()


def _words(run: Runner, _: Path) -> Outcomes:
    path = run.home / "words.toml"
    for name, make in BOMBS.items():
        path.write_bytes(make())
        yield f"words: {name}", run("read", "left sill, hole", "--words", path)
        yield f"map: {name}", run("read", "left sill, hole", "--map", path)


def _spoken(run: Runner, _: Path) -> Outcomes:
    """Text to be read, on the command line and on standard input."""
    given = run.home / "said.txt"
    for name, text in utterable():
        yield (
            name,
            run("read", text, "--subject", encodable(STRINGS[name]), "--into", run.home / "logs"),
        )
        given.write_bytes(STRINGS[name].encode("utf-8", "surrogatepass"))
        yield f"{name}, piped", run("read", "-", "--json", given=given)
    for name, data in _LONG.items():
        given.write_bytes(data)
        yield name, run("read", "-", given=given)


_LONG: Mapping[str, bytes] = {
    "ten million characters": long_text().encode(),
    "a million words": b"left front rail crack " * 250_000,
    "a number of a million digits": b"hole " + b"9" * 1_000_000 + b" millimetres",
    "a million numbers": b"hole " + b"9 " * 1_000_000,
    "zeros": bytes(1_000_000),
    "bytes that are no text": bytes(range(256)) * 1_000,
}  # fmt: skip


def _of(tries: Callable[[Runner, Path], Outcomes]) -> Callable[[Runner, Path], Counts]:
    return lambda run, honest: _counted(tries(run, honest))


FILES: Mapping[str, Callable[[Runner, Path], Counts]] = {
    "recordings whose headers lie": _of(_recordings),
    "pictures: bombs, polyglots, EXIF that lies": _of(_pictures),
    "names of pictures, folders and logs": _of(_names),
    "links, pipes, devices and folders as files": _of(_special),
    "TOML bombs as settings": _of(_settings),
    "TOML bombs as words and as maps": _of(_words),
    "text to be read": _of(_spoken),
}
"""What is tried to how; each is a row of the table."""
