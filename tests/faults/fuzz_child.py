"""The process that fuzzes: run by ``fuzz.py``, once for a target, again after each crash.

What a run finds is kept as a file in the folder of findings, one for each place in the code that it
comes from, and the run goes on; only what ends the process, or hangs it, is left to the fuzzer itself.
"""

from __future__ import annotations

import hashlib
import json
import os
import resource
import sys
import time
import traceback
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from fuzz_target import Target

_FRESH_MB = 3_000
"""What a process may come to hold: libraries lose some bytes with each damaged file, and after a hundred
thousand of them another process goes on. What one input may add is the target's to say.
"""

_NOT_WATCHED = ("voicelog.journal.mending",)
"""Modules that turn over a hundred thousand bits for one input: watching each would take all the time."""


@dataclass(slots=True)
class Watch:
    """Runs inputs one by one, and keeps those that should not have done what they did.

    Args:
        target: what is fuzzed.
        findings: the folder that gets them.
    """

    target: Target
    findings: Path

    def run(self, data: bytes) -> None:
        """One input, its time and its memory watched."""
        found = found_by(self.target, data)
        if found:
            keep(self.findings, *found, data)
        if _memory_mb() > _FRESH_MB:
            os._exit(0)


def found_by(target: Target, data: bytes) -> tuple[str, str] | None:
    """What is wrong with how a target takes an input: where it comes from, and the words; None if
    nothing is.
    """
    from voicelog.errors import VoicelogError

    begun_s, before_mb = time.process_time(), _memory_mb()
    try:
        target.run(data)
    except VoicelogError:
        pass
    except Exception as error:  # that is what is looked for
        return _place_of(error), "".join(traceback.format_exception(error)[-12:])
    spent_s, more_mb = time.process_time() - begun_s, _memory_mb() - before_mb
    if spent_s > target.patience_s:
        return "slow", f"{spent_s:.1f} s of processor time"
    if more_mb > target.growth_mb:
        return "memory", f"{more_mb:.0f} MB more"
    return None


def _memory_mb() -> float:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def _place_of(error: BaseException) -> str:
    """The kind of error, and the last line of the program itself that it came through."""
    frames = traceback.extract_tb(error.__traceback__)
    own = [frame for frame in frames if "/voicelog/" in frame.filename] or list(frames)
    if isinstance(error, AssertionError):
        own = list(frames)
    last = own[-1]
    return f"{type(error).__name__}-{Path(last.filename).stem}-{last.lineno}"


def keep(folder: Path, place: str, why: str, data: bytes) -> None:
    """Write a finding down, unless a shorter input shows the same already."""
    path = folder / f"{place}.input"
    if not path.exists() or len(data) < path.stat().st_size:
        path.write_bytes(data)
        path.with_suffix(".why").write_text(why, encoding="utf-8", errors="replace")


def main() -> None:
    """Fuzz one target: ``fuzz_child.py ORDERS`` with the orders as JSON."""
    orders: dict[str, Any] = json.loads(sys.argv[1])
    import atheris

    with atheris.instrument_imports(
        include=["voicelog"], exclude=[*_NOT_WATCHED], enable_loader_override=False
    ):
        import fuzz_targets

        target = fuzz_targets.target(orders["target"])
    watch = Watch(target, Path(orders["findings"]))
    corpus = Path(orders["corpus"])
    for data in target.seeds():
        if len(data) <= target.longest:
            (corpus / hashlib.sha256(data).hexdigest()[:16]).write_bytes(data)

    def mutated(data: bytes, longest: int, seed: int) -> bytes:
        if seed % 8 == 0:
            return bytes(atheris.Mutate(data, longest))
        return fuzz_targets.mutated(target, data, longest, seed)

    more = {"custom_mutator": mutated} if target.mutate else {}
    atheris.Setup(_arguments(orders, target, corpus), watch.run, **more)
    atheris.Fuzz()


def _arguments(orders: dict[str, Any], target: Target, corpus: Path) -> list[str]:
    """What libFuzzer is told."""
    return [
        sys.argv[0], f"-max_total_time={orders['seconds']}", f"-seed={orders['seed']}",
        f"-max_len={target.longest}", f"-timeout={int(target.patience_s * 30)}", "-rss_limit_mb=0",
        f"-artifact_prefix={orders['findings']}/", "-print_final_stats=1", "-len_control=0",
        *_dictionary(target, corpus.parent / "words"), str(corpus),
    ]  # fmt: skip


def _dictionary(target: Target, path: Path) -> list[str]:
    """The words of a format as a file; an empty one would be refused."""
    lines = ["".join(f"\\x{byte:02x}" for byte in word) for word in target.words]
    path.write_text("".join(f'"{line}"\n' for line in lines))
    return [f"-dict={path}"] if lines else []


if __name__ == "__main__":
    main()
