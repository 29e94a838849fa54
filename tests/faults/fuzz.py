"""Feeds a part of the program random input, guided by what code each input reaches.

    python tests/faults/fuzz.py journal --seconds 300
    python tests/faults/fuzz.py all --seconds 300 --write

It needs the extra ``fuzz`` (atheris: Linux and macOS, Python 3.11 and later). Whatever an input does, an
answer or a VoicelogError may come of it and nothing else, within the target's time and memory; what must
hold beside that stands in the targets (``fuzz_journal.py`` and its neighbours). Each finding is shortened
and shown; put it into ``tests/faults/fuzz/found/`` with ``--keep``, where a test runs it for good.
"""

from __future__ import annotations

import argparse
import json
import re
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

import figures
from fuzz_found import Finding, kept, kept_as, shortened
from fuzz_targets import TARGETS, target

_CHILD = Path(__file__).with_name("fuzz_child.py")
_STATE = re.compile(r"#(\d+)\s+\w+\s+cov: (\d+)")
_MOST_DEATHS = 5
"""Of a process that tried nothing at all: then it is the harness that is broken."""
_NATIVE = ("crash", "timeout", "oom", "leak")
"""What libFuzzer calls the inputs that end the process."""
_GRACE_S = 120
"""Beyond its time, until a child that does not end is ended."""


@dataclass(slots=True)
class Outcome:
    """What came of one target.

    Args:
        executions: how many inputs were tried.
        edges: how many of the places where the code branches were reached.
        deaths: how often the process ended by itself, and how.
        findings: inputs that did what none should.
    """

    executions: int = 0
    edges: int = 0
    deaths: list[str] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)


def main() -> None:
    """Fuzz the targets that are asked for."""
    asked = _parser().parse_args()
    try:
        version("atheris")
    except PackageNotFoundError:
        raise SystemExit("atheris is not installed: pip install -e '.[ear,test,fuzz]'") from None
    rows = []
    for name in TARGETS if asked.target == "all" else (asked.target,):
        print(f"{name}: {asked.seconds} s", file=sys.stderr, flush=True)
        outcome = _fuzzed(name, asked.seconds, asked.seed, asked.corpus)
        rows.append(_row(name, outcome))
        print(f"| {' | '.join(map(str, rows[-1]))} |", flush=True)
        for finding in outcome.findings:
            _show(finding, keep=asked.keep)
    if asked.write:
        figures.write("fuzz", _command(asked), [*rows, _kept_row()])


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("target", choices=[*TARGETS, "all"], help="what is fed")
    parser.add_argument("--seconds", type=int, default=300, help="for each target (300)")
    parser.add_argument("--seed", type=int, default=1, help="of the random numbers (1)")
    parser.add_argument("--corpus", type=Path, help="keep the inputs that reach something new here")
    parser.add_argument("--keep", action="store_true", help="put what is found among the tests")
    parser.add_argument("--write", action="store_true", help="put the figures into REPORT.md")
    return parser


def _fuzzed(name: str, seconds: int, seed: int, corpus: Path | None) -> Outcome:
    outcome = Outcome()
    with tempfile.TemporaryDirectory(prefix="voicelog-fuzz-") as scratch:
        findings = Path(scratch) / "findings"
        inputs = (corpus or Path(scratch)).resolve() / name / "inputs"
        for folder in (findings, inputs):
            folder.mkdir(parents=True, exist_ok=True)
        end = time.monotonic() + seconds
        while (left_s := round(end - time.monotonic())) > 0:
            orders = {"target": name, "seconds": left_s, "seed": seed + len(outcome.deaths)}
            places = {"findings": str(findings), "corpus": str(inputs)}
            _run(json.dumps(orders | places), left_s, outcome)
        outcome.findings = list(_found(name, findings, outcome.deaths))
    return outcome


def _run(orders: str, seconds: int, outcome: Outcome) -> None:
    """One process; where it ends by itself before its time, how is noted."""
    child = subprocess.Popen(
        [sys.executable, str(_CHILD), orders], stdout=subprocess.DEVNULL, stderr=subprocess.PIPE,
        text=True, errors="replace", cwd=_CHILD.parents[2],
    )  # fmt: skip
    assert child.stderr is not None
    executions, lines, clock = 0, list[str](), time.monotonic()
    for line in child.stderr:
        lines = [*lines[-40:], line]
        if told := _STATE.match(line):
            executions, outcome.edges = int(told[1]), max(outcome.edges, int(told[2]))
        if time.monotonic() - clock > seconds + _GRACE_S:
            child.kill()
    outcome.executions += executions
    if child.wait() != 0:
        said = [line.strip() for line in lines if "ERROR" in line or "Error" in line]
        outcome.deaths.append(f"exit {child.returncode}: {(said or lines[-1:] or [''])[-1][:200]}")
        if executions == 0 and len(outcome.deaths) >= _MOST_DEATHS:
            raise SystemExit("".join(lines))


def _found(name: str, findings: Path, deaths: Sequence[str]) -> Iterator[Finding]:
    """Everything that was found, each as short as it can be made."""
    for path in sorted(findings.glob("*.input")):
        why = path.with_suffix(".why").read_text(encoding="utf-8")
        yield shortened(Finding(name, path.stem, why, path.read_bytes()), target(name))
    natives = [path for kind in _NATIVE for path in sorted(findings.glob(f"{kind}-[0-9a-f]*"))]
    for path in natives:
        yield Finding(name, path.name, "; ".join(deaths), path.read_bytes())
    if len(deaths) > len(natives):
        yield Finding(name, "ended", "; ".join(deaths), b"")


def _row(name: str, outcome: Outcome) -> figures.Row:
    bad = len(outcome.findings)
    note = f"{outcome.edges:,} edges reached; findings: {bad}"
    return figures.Row(target(name).what, outcome.executions, outcome.executions - bad, note)


def _kept_row() -> figures.Row:
    """What earlier runs found, tried again."""
    from fuzz_child import found_by

    came = [found_by(target(name), data) is None for _, name, data in kept()]
    return figures.Row("what earlier runs found, now tests", len(came), sum(came))


def _show(finding: Finding, *, keep: bool) -> None:
    print(f"\n== {finding.target}: {finding.place}\n{finding.why}\n{finding.data[:400]!r}")
    if keep:
        print(f"kept as {kept_as(finding)}")


def _command(asked: argparse.Namespace) -> str:
    return (
        f"python tests/faults/fuzz.py {asked.target} --seconds {asked.seconds} --seed {asked.seed}"
    )


if __name__ == "__main__":
    main()
