"""What the fuzzer found: made as short as it can be, and kept for a test."""

from __future__ import annotations

import base64
import hashlib
import json
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from fuzz_target import Target

KEPT = Path(__file__).with_name("fuzz") / "found"
"""One JSON file for each finding: the target, the input, and what it did."""

_EFFORT_S = 30.0


@dataclass(frozen=True, slots=True)
class Finding:
    """An input that did what none should.

    Args:
        target: what it was fed to.
        place: the kind of error and where in the code it comes from.
        why: the traceback, or what took too long.
        data: the input.
    """

    target: str
    place: str
    why: str
    data: bytes


def shortened(finding: Finding, target: Target, effort_s: float = _EFFORT_S) -> Finding:
    """The same finding with as little input as still shows it.

    Args:
        finding: as it was found.
        target: what it was fed to.
        effort_s: seconds after which the shortest so far will do.
    """
    from fuzz_child import found_by

    if finding.place in ("slow", "memory"):  # not the same in another process
        return finding

    def shows(data: bytes) -> bool:
        found = found_by(target, data)
        return found is not None and found[0] == finding.place

    return replace(finding, data=shortest(finding.data, shows, effort_s))


def shortest(data: bytes, shows: Callable[[bytes], bool], effort_s: float) -> bytes:
    """An input with pieces taken out, halves first, as long as it still shows the same."""
    end = time.monotonic() + effort_s
    size = max(1, len(data) // 2)
    while size >= 1 and time.monotonic() < end:
        at = 0
        while at < len(data) and time.monotonic() < end:
            tried = data[:at] + data[at + size :]
            if shows(tried):
                data = tried
            else:
                at += size
        size //= 2
    return data


def kept_as(finding: Finding) -> Path:
    """The file that now holds it."""
    KEPT.mkdir(parents=True, exist_ok=True)
    named = hashlib.sha256(finding.data).hexdigest()[:8]
    path = KEPT / f"{finding.target}-{named}.json"
    told = {"target": finding.target, "what": finding.place, **_as_json(finding.data)}
    path.write_text(json.dumps(told, indent=1) + "\n", encoding="ascii")
    return path


def _as_json(data: bytes) -> dict[str, str]:
    """Plain text where it is that, so that one can read it; else base 64."""
    try:
        return {"text": data.decode("utf-8")}
    except UnicodeDecodeError:
        return {"base64": base64.b64encode(data).decode("ascii")}


def kept() -> Iterator[tuple[str, str, bytes]]:
    """Name, target and input of everything that was kept."""
    for path in sorted(KEPT.glob("*.json")):
        told = json.loads(path.read_bytes())
        data = told["text"].encode() if "text" in told else base64.b64decode(told["base64"])
        yield path.stem, told["target"], data
