"""Every command that opens a log, and what is wrong with what it does to a hostile one."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from hostile_outputs import in_cues, in_json, in_page, in_table, steering
from hostile_run import Outcome, Runner

from voicelog.runtime.exports import FORMS

LONGEST_S = 10.0
"""Seconds of a processor that any hostile file may take; the harness measures them."""

MOST_MIB = 512
"""The most memory, the loaded program included."""

KNOWN_CODES = frozenset((0, 2, 3, 4, 5, 6, 7, 8))
"""The exit codes that the program documents."""

READING: Sequence[tuple[str, ...]] = (
    ("verify", "LOG"), ("why", "LOG"), ("why", "LOG", "--json"), ("why", "LOG", "e2.1"), ("work", "LOG"),
    ("vehicle", "LOG"), ("vehicle", "LOG", "--json"), ("list", "ABOVE"), ("list", "ABOVE", "--json"),
    ("review", "LOG", "--plain"), ("review", "LOG", "--json"), ("review", "LOG", "--plain", "--entry", "e2.1"),
    *(("export", "LOG", "--to", form) for form in FORMS if form != "pdf"),
    ("export", "LOG", "-o", "OUT.vtt"), ("compare", "HONEST", "LOG"),
    ("compare", "LOG", "HONEST", "--json"), ("sign", "LOG", "--list"), ("photos", "LOG"),
    ("recover", "LOG", "--dry-run"), ("erase", "LOG", "--all-sound", "--dry-run"),
    ("erase", "LOG", "--inspection", "--dry-run"),
)  # fmt: skip
"""Those that change nothing; LOG is the hostile one."""

WRITING: Sequence[tuple[str, ...]] = (
    ("amend", "LOG", "--entry", "e2.1", "--set", "side=right"),
    ("amend", "LOG", "--add", "right sill, crack", "--json"), ("vehicle", "LOG", "--plate", "AB 12"),
    ("photos", "LOG", "PICTURES", "--yes", "--unmatched"), ("sign", "LOG", "--why", "all of it", "--by", "Sam"),
    ("erase", "LOG", "--clip", "u3", "--yes"), ("recover", "LOG", "--into", "RESCUED"),
)  # fmt: skip
"""Those that write into the log or beside it, in an order in which each can do something."""

PAGES = (("export", "LOG", "--to", "pdf", "-o", "OUT.pdf"),)
"""It takes seconds."""


class Tried:
    """Commands tried on one log.

    Args:
        runner: runs them.
        honest: a log that means no harm.
        marks: the markup of a report about that one.
    """

    def __init__(self, runner: Runner, honest: Path, marks: set[str]) -> None:
        self._run, self._honest, self._marks = runner, honest, marks
        self.worst_s, self.worst_mib, self.runs = 0.0, 0.0, 0

    def faults(self, log: Path, commands: Sequence[tuple[str, ...]]) -> list[str]:
        """What is wrong, one sentence each; what is too slow is tried once more."""
        found = []
        for command in commands:
            arguments = [self._place(log).get(word, word) for word in command]
            outcome = self._run(*arguments)
            if outcome.timed_out or outcome.took_s > LONGEST_S:
                outcome = self._run(*arguments)
            self.runs += 1
            self.worst_s = max(self.worst_s, outcome.took_s)
            self.worst_mib = max(self.worst_mib, outcome.peak_mib)
            if wrong := self._wrong(command, outcome):
                found.append(f"{' '.join(command)}: {wrong}")
        return found

    def _place(self, log: Path) -> Mapping[str, object]:
        home = self._run.home
        return {
            "LOG": log, "ABOVE": log.parent, "HONEST": self._honest, "OUT.vtt": home / "walk.vtt",
            "OUT.pdf": home / "report.pdf", "PICTURES": home / "pictures", "RESCUED": home / "rescued",
        }  # fmt: skip

    def _wrong(self, command: tuple[str, ...], outcome: Outcome) -> str:
        if wrong := bounds(outcome):
            return wrong
        looked = _LOOKED.get(command[-1]) if outcome.code == 0 else None
        if looked is not None:
            return steering(outcome.err) or looked(outcome.out)
        if command[-1] == "html" and outcome.code == 0:
            return in_page(outcome.out, self._marks)
        return steering(outcome.out + outcome.err)


_LOOKED: Mapping[str, Callable[[bytes], str]] = {
    "csv": in_table, "vtt": in_cues, "--json": in_json,
}  # fmt: skip


def bounds(outcome: Outcome) -> str:
    """What is wrong with how a command ended: by itself, on purpose, and within bounds."""
    if outcome.crashed or outcome.code not in KNOWN_CODES:
        last = outcome.err.decode("utf-8", "replace").strip().split("\n")[-1]
        return "hangs" if outcome.timed_out else f"{outcome.code}: {last}"
    if b"not enough memory" in outcome.err or outcome.peak_mib > MOST_MIB:
        return f"{outcome.peak_mib:.0f} MiB"
    if outcome.took_s > LONGEST_S:
        return f"{outcome.took_s:.0f} s"
    return ""
