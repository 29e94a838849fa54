"""What random input once did to the program, it does not do again; and the fuzzer's own parts work."""

from __future__ import annotations

import random
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1]))

import fuzz_child
import fuzz_json
import fuzz_lines
from fuzz_found import kept, shortest
from fuzz_target import Target
from fuzz_targets import TARGETS, target

from voicelog.config import cache
from voicelog.errors import InputFault
from voicelog.journal import mending
from voicelog.runtime import understanding

FOUND = {name: (to, data) for name, to, data in kept()}
AT = "2026-03-14T09:05:30.250Z"


@pytest.fixture(scope="module")
def targets() -> Iterator[dict[str, Target]]:
    """Each target, made once: it takes the grammar, or a log of its own. What they put in the program's
    place to be fast is taken out again.
    """
    with pytest.MonkeyPatch.context() as patch:
        for room, name in ((cache, "_cached"), (mending, "_LONGEST"), (understanding, "Reader")):
            patch.setattr(room, name, getattr(room, name))
        yield {}


@pytest.mark.parametrize("name", FOUND)
def test_what_was_found_is_mended(name: str, targets: dict[str, Target]) -> None:
    """An answer, or a fault with a sentence, in bounded time and memory."""
    to, data = FOUND[name]
    one = targets.setdefault(to, target(to))
    assert fuzz_child.found_by(one, data) is None


def test_there_is_something_to_try() -> None:
    """An empty folder would pass, too."""
    assert len(FOUND) >= 9
    assert {to for to, _ in FOUND.values()} <= set(TARGETS)


def test_a_finding_is_told_apart_from_an_answer() -> None:
    """A fault of the program's own is an answer; whatever else is raised is a finding, by its place."""

    def run(data: bytes) -> None:
        if data == b"answer":
            raise InputFault("no", "try again")
        if data == b"defect":
            raise KeyError(data)

    one = Target("a stand-in", run, list)
    assert fuzz_child.found_by(one, b"answer") is None
    assert fuzz_child.found_by(one, b"") is None
    place, why = fuzz_child.found_by(one, b"defect") or ("", "")
    assert place.startswith("KeyError-test_fuzz_found-")
    assert "Traceback" in why


def test_a_finding_is_made_short() -> None:
    """No byte is left that it does not need."""
    assert shortest(b"abcXdefYghi", lambda data: b"X" in data and b"Y" in data, 9.0) == b"XY"


def test_a_mended_journal_is_a_chain() -> None:
    """Numbers and hashes follow; what is no line stays, and so does a torn end."""
    lines = [b'{"seq":9,"type":"opened"}', b"noise", b'{"seq":9,"type":"gap"}']
    made = fuzz_lines.mended(b"\n".join([*lines, b'{"seq"']))
    first, noise, second, rest = made.split(b"\n")
    assert fuzz_lines.parsed(first)["seq"] == 1
    assert (noise, rest) == (b"noise", b'{"seq"')
    assert fuzz_lines.parsed(second)["prev"] == fuzz_lines.digest(first)


@pytest.mark.parametrize("seed", range(5))
def test_the_same_numbers_make_the_same_input(seed: int) -> None:
    """So that a run can be told by its seed; and what is made of JSON is JSON."""
    document = {"changes": [{"do": "add", "entry": {"id": "e2.1", "at": AT}}], "v": 1}
    one, other = (fuzz_json.altered(document, random.Random(seed)) for _ in range(2))
    assert repr(one) == repr(other)
    made = fuzz_lines.mutated(b'{"seq":1}\n', 400, random.Random(seed))
    assert made == fuzz_lines.mutated(b'{"seq":1}\n', 400, random.Random(seed))
    assert len(made) <= 400
