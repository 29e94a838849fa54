"""A worked reader of what voicelog hands over; it needs Python 3.11 or later and nothing else.

    python3 reader.py FILE...                  what a finished document, or a journal so far, says
    python3 reader.py --json FILE...           the same for a program, one object a line
    python3 reader.py --follow journal.jsonl   each entry as it is said, until the log is closed

The files beside it belong to it; ``../javascript`` holds the same, name by name. Take
either over into your own program. The exit code is 1 where something was refused: one sentence on
standard error says why.
"""

from __future__ import annotations

import json
import sys
import time
from pathlib import Path
from typing import Any, NoReturn

from journal import Journal
from parts import WORST_FIRST, Refused, is_doubtful, of_type, parse
from wording import as_text, shown


def main(arguments: list[str]) -> int:
    """Reads what the command line names; returns the exit code."""
    flags = [one for one in arguments if one in ("--json", "--follow")]
    paths = [one for one in arguments if not one.startswith("--")]
    if not paths or len(flags) + len(paths) < len(arguments) or len(flags) > 1:
        print("usage: reader.py [--json | --follow] FILE...", file=sys.stderr)
        return 2
    as_json = "--json" in flags
    return max(_tell(path, as_json=as_json, live="--follow" in flags) for path in paths)


def _tell(path: str, *, as_json: bool, live: bool) -> int:
    """One file; what is refused is told in one sentence, never half read."""
    try:
        summary = follow(Path(path)) if live else summary_of(Path(path))
    except OSError:
        return _refused(path, "It cannot be opened", as_json=as_json)
    except Refused as why:
        return _refused(path, str(why), as_json=as_json)
    print(json.dumps(summary, separators=(",", ":")) if as_json else as_text(summary))
    return 0


def _refused(path: str, why: str, *, as_json: bool) -> int:
    if as_json:
        print(json.dumps({"refused": why}, separators=(",", ":")))
    print(shown(f"{path}: {why}."), file=sys.stderr)
    return 1


def summary_of(path: Path) -> dict[str, Any]:
    """What a file says: a journal by its name, anything else as a document.

    Raises:
        Refused: it is not what this reader knows, or it is damaged.
    """
    data = path.read_bytes()
    if path.suffix != ".jsonl":
        return of_document(parse(data, "It"))
    *lines, torn = data.split(b"\n")
    journal = Journal()
    for line in lines:
        journal.take(line)
    return of_journal(journal, torn=bool(torn))


def follow(path: Path) -> dict[str, Any]:
    """Tells each entry as it is said, and sums up when the log is closed.

    A line is taken when its line feed is there; what stands behind the last one is not yet whole.
    """
    journal, rest = Journal(), b""
    with path.open("rb") as file:
        while not journal.closed:
            *lines, rest = (rest + file.read()).split(b"\n")
            for line in lines:
                for told in journal.take(line):
                    print(shown(told), flush=True)
            if not lines:
                time.sleep(0.2)
    return of_journal(journal, torn=False)


def of_document(document: dict[str, Any]) -> dict[str, Any]:
    """What an inspection, or an answer, says."""
    contract = document.get("contract", "1.0")
    if not isinstance(contract, str):
        raise Refused("Its contract is not a text")
    if contract.split(".")[0] != "1":
        raise Refused(f"It follows contract {contract}, and this reader knows 1: get a newer one")
    entries = of_type(document, "entries", list)
    verdict, log = of_type(document, "verdict", dict), document.get("log")
    log = log if isinstance(log, dict) else {}
    return {
        **_head(log.get("id"), log.get("closed") is True, entries),
        "open": [_place(gap) for gap in of_type(verdict, "could_change", list)],
        "verdict": {name: of_type(verdict, name, str) for name in ("drive", "work", "tier")},
        "notes": _sentences(document),
    }


def _sentences(document: dict[str, Any]) -> list[str]:
    """What is to be shown with every log; an answer has nothing of it."""
    cautions = of_type(document, "cautions", list, [])
    return [one for one in (*cautions, document.get("notice")) if isinstance(one, str)]


def of_journal(journal: Journal, *, torn: bool) -> dict[str, Any]:
    """What a journal says so far. Which places nobody spoke of, and the verdict, it does not tell."""
    holding = journal.holding()
    notes = [*journal.notes, *["The last line is not whole; it was left aside."] * torn]
    return {
        **_head(journal.log, journal.closed, holding),
        "open": [_place(entry, why) for entry in holding for why in _open(entry)],
        "notes": notes,
    }


def _head(log: object, closed: bool, entries: list[Any]) -> dict[str, Any]:
    """The findings, the worst first, and how many there are of each grade."""
    if not all(isinstance(entry, dict) for entry in entries):
        raise Refused("One of its entries is not an object")
    found = [_finding(entry) for entry in entries if entry.get("kind") == "finding"]
    found.sort(key=lambda one: WORST_FIRST.index(one["grade"]))
    grades = {grade: sum(one["grade"] == grade for one in found) for grade in WORST_FIRST}
    name = log if isinstance(log, str) else "?"
    return {"log": name, "closed": closed, "grades": grades, "findings": found}


def _finding(entry: dict[str, Any]) -> dict[str, Any]:
    """A doubtful one keeps its grade: it may be misheard, and it may as well be true."""
    grade = entry.get("grade")
    return {
        **_place(entry),
        "grade": grade if grade in WORST_FIRST[1:] else "unknown",
        "doubtful": is_doubtful(entry),
        "after_signing": entry.get("after_signing", False) is not False,
    }


def _open(entry: dict[str, Any]) -> list[str]:
    """Why an entry needs another look."""
    reasons = {
        "not-seen": entry["kind"] == "not-seen",
        "unproven": entry["unproven"] and entry["kind"] == "finding",
        "doubtful": (is_doubtful(entry) and entry["kind"] != "remark") or entry["unplaced"],
    }
    return [why for why, holds in reasons.items() if holds]


def _place(one: Any, why: str | None = None) -> dict[str, Any]:
    """Where something is, as far as that is known; unknown keys are left behind."""
    if not isinstance(one, dict):
        raise Refused("One of its open places is not an object")
    told = {**one, **({"why": why} if why else {})}
    told |= {"entry": one["id"]} if "id" in one else {}
    keys = ("entry", "zone", "side", "face", "condition", "why", "reason")
    return {key: told[key] for key in keys if isinstance(told.get(key), str)}


def _end() -> NoReturn:
    for stream in (sys.stdout, sys.stderr):
        stream.reconfigure(encoding="utf-8")  # type: ignore[union-attr]
    try:
        sys.exit(main(sys.argv[1:]))
    except KeyboardInterrupt:
        sys.exit(130)


if __name__ == "__main__":
    _end()
