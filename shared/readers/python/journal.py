"""A journal, folded line by line: entries as they stand now, with the grade that was told last.

The grades are the program's own, from ``graded``; this reader has no rules. A line that it cannot
be sure of stops it: skipping one could hide the worst.
"""

from __future__ import annotations

import hashlib
import math
from typing import Any

from parts import WORST_FIRST, Refused, of_type, parse

_SAYS_LINES_ARE_LOST = ("changes_lost", "denied")


class Journal:
    """What the lines taken so far come to.

    Attributes:
        log: id of the log.
        closed: it was closed, and nothing was said since.
        notes: sentences on what is missing.
    """

    def __init__(self) -> None:
        self.log, self.closed = "?", False
        self.notes: list[str] = []
        self._entries: dict[str, dict[str, Any]] = {}
        self._withdrawn: set[str] = set()
        self._number, self._seal = 0, "0" * 64

    def holding(self) -> list[dict[str, Any]]:
        """The entries that were not taken back, with the keys of an entry of a document."""
        there = [one for name, one in self._entries.items() if name not in self._withdrawn]
        return [{**one["slots"], **one, "slots": None} for one in there]

    def take(self, line: bytes) -> list[str]:
        """One whole line, without its line feed.

        Returns:
            What to tell of it, a sentence each; nothing for a type of line that is not known.

        Raises:
            Refused: it is of a later version, damaged, or does not follow the line before.
        """
        fact = self._checked(line)
        said = len(self.notes)
        self._note(fact)
        touched = [self._change(change) for change in of_type(fact, "changes", list, [])]
        touched += self._grade(of_type(fact, "graded", dict, {}))
        return [*self.notes[said:], *map(self._told, dict.fromkeys(touched))]

    def _checked(self, line: bytes) -> dict[str, Any]:
        self._number += 1
        name = f"Line {self._number}"
        fact = parse(line, name)
        version = fact.get("v")
        if version not in (0, 1) or isinstance(version, bool):
            raise Refused(f"{name} is of a version that this reader does not know: get a newer one")
        if fact.get("prev") != self._seal or fact.get("seq") != self._number:
            raise Refused(f"{name} does not follow the line before it: run voicelog verify")
        self._seal = hashlib.sha256(line).hexdigest()
        return fact

    def _note(self, fact: dict[str, Any]) -> None:
        """What the line says of the log as a whole."""
        kind = fact.get("type")
        if kind == "opened":
            self.log = of_type(fact, "log_id", str)
        if kind in ("closed", "utterance"):
            self.closed = kind == "closed"
        if "recovered_from" in fact:
            self.notes.append("This log was recovered from a damaged one; some of it may be lost.")
        if kind == "left-out" or any(key in fact for key in _SAYS_LINES_ARE_LOST):
            self.notes.append(f"Line {self._number} is lost: it may have told the worst.")
        if kind == "gap":
            self.notes.append(f"{_length(fact.get('lost_s'))} of sound is missing: {_MAY_BE}.")

    def _change(self, change: object) -> str:
        """Takes one change in; returns the id of its entry."""
        if not isinstance(change, dict):
            raise Refused(f"Line {self._number} holds a change that is not an object")
        do, told = change.get("do"), change.get("entry")
        name = told.get("id") if isinstance(told, dict) else told
        if not isinstance(name, str) or (do == "add") is (name in self._entries):
            raise Refused(f"Line {self._number} does not fit what came before: run voicelog verify")
        if do in ("add", "replace"):
            self._entries[name] = _made(of_type(change, "entry", dict), self._entries.get(name))
        elif do == "amend":
            _amend(self._entries[name], change)
        elif do == "withdraw":
            self._withdrawn.add(name)
        elif do == "restore":
            self._withdrawn.discard(name)
        else:
            raise Refused(f"Line {self._number} holds a change that this reader does not know")
        return name

    def _grade(self, graded: dict[str, Any]) -> list[str]:
        """Takes the grades in that were told; returns the ids of their entries."""
        names = [name for name in graded if name in self._entries]
        for name in names:
            told = of_type(graded, name, dict)
            self._entries[name]["grade"] = told.get("grade")
            self._entries[name]["unproven"] = told.get("unproven") is True
        return names

    def _told(self, name: str) -> str:
        """How an entry stands now. That it was unsafe before is never left out."""
        entry = self._entries[name]
        slots, finding = entry["slots"], entry["kind"] == "finding"
        grade = _text(entry["grade"] if finding else entry["kind"])
        before, entry["shown"] = entry["shown"], grade
        words = [grade.upper() if grade in WORST_FIRST[:2] else grade, name]
        words += [slots[key] for key in _PLACE if isinstance(slots.get(key), str)]
        marks = ", DOUBTFUL" if entry["doubtful"] else ""
        marks += ", taken back" if name in self._withdrawn else ""
        softer = grade != "unsafe" or name in self._withdrawn
        return " ".join(words) + marks + (", WAS UNSAFE" if before == "unsafe" and softer else "")


_MAY_BE = "something may have been said"
_PLACE = ("zone", "side", "face", "condition")


def _text(value: object) -> str:
    return value if isinstance(value, str) else "unknown"


def _length(lost_s: Any) -> str:
    number = isinstance(lost_s, int | float) and not isinstance(lost_s, bool)
    return f"About {math.ceil(lost_s)} s" if number and 0 <= lost_s < 1e6 else "Some"


def _made(entry: dict[str, Any], before: dict[str, Any] | None) -> dict[str, Any]:
    """An entry as it was added, or put in place of another: that one's grade holds until it is told
    anew.
    """
    graded = before or {"grade": None, "unproven": False, "shown": None}
    return {
        "id": entry["id"],
        "slots": dict(of_type(entry, "slots", dict, {})),
        "kind": entry.get("kind"),
        "reason": entry.get("reason"),
        "unplaced": entry.get("unplaced", False) is not False,
        "doubtful": entry.get("doubts", []) != [],
        "grade": graded["grade"],
        "unproven": graded["unproven"],
        "shown": graded["shown"],
    }


def _amend(entry: dict[str, Any], change: dict[str, Any]) -> None:
    """``drop`` goes, then ``set`` replaces or adds; kind and doubts where they are given."""
    dropped, slots = of_type(change, "drop", list, []), entry["slots"]
    kept = {key: value for key, value in slots.items() if key not in dropped}
    entry["slots"] = {**kept, **of_type(change, "set", dict, {})}
    entry["unplaced"] = entry["unplaced"] and "zone" not in entry["slots"]
    if change.get("kind", entry["kind"]) != entry["kind"]:
        entry |= {"kind": change["kind"], "reason": None}
    if "doubts" in change:
        entry["doubtful"] = change["doubts"] != []
