"""Changes the code of grading and of the journal, the severity table and the maps, one small mistake at a
time, and sees whether a test notices.

    python tests/faults/mutation.py grading
    python tests/faults/mutation.py all --minutes 25 --write

It needs the extra ``fuzz`` (cosmic-ray, whose operators make the mutants). cosmic-ray's own way to run
them writes into the files of the checkout and starts Python anew for each; here each mutant lives in
memory, in a child of a process that has loaded the rest, and the rules of ``grammar/`` are mutated too.
What survives is either killed by a better test or explained in ``tests/faults/mutants/``.
"""

from __future__ import annotations

import argparse
import json
import random
import subprocess
import sys
import time
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

import figures
import mutation_rules
from mutation_areas import AREAS
from mutation_known import Key, explained, key
from mutation_one import Mutant

_ROOT = Path(__file__).parents[2]
_CHILD = Path(__file__).with_name("mutation_child.py")

Tried = tuple[Mutant, str]


def main() -> None:
    """Try the mutants of the areas that are asked for."""
    asked = _parser().parse_args()
    try:
        version("cosmic-ray")
    except PackageNotFoundError:
        raise SystemExit("cosmic-ray is not installed: pip install -e '.[ear,test,fuzz]'") from None
    names = [*AREAS] if asked.area == "all" else [asked.area]
    known = explained()
    made = {name: _mutants(name, asked.only) for name in names}
    whole = sum(map(len, made.values())) or 1
    rows: list[figures.Row] = []
    for name in names:
        share_s = asked.minutes * 60 * len(made[name]) / whole
        tried = []
        for mutant, answer in _tried(name, _sampled(made[name], asked.seed), share_s):
            tried.append((mutant, answer))
            if answer == "survived" and key(mutant) not in known:
                print(_shown(mutant), flush=True)
        rows += _rows(name, made[name], tried, known)
    for row in rows:
        print(f"| {' | '.join(map(str, row))} |")
    if asked.write:
        figures.write("mutation", _command(asked), rows)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("area", choices=[*AREAS, "all"], help="what is mutated")
    parser.add_argument("--minutes", type=float, default=25, help="for all of it (25)")
    parser.add_argument("--seed", type=int, default=1, help="which mutants come first (1)")
    parser.add_argument("--only", default="", help="a file of the area, by a part of its name")
    parser.add_argument("--write", action="store_true", help="put the figures into REPORT.md")
    return parser


def _shown(mutant: Mutant) -> str:
    place = f"{mutant.file}:{mutant.line} ({mutant.where})"
    return f"{place}\n  - {mutant.old}\n  + {mutant.new}"


def _mutants(area: str, only: str) -> list[Mutant]:
    return [m for file in AREAS[area].tests if only in file for m in _of_file(file)]


def _of_file(file: str) -> Iterator[Mutant]:
    import mutation_made

    source = (_ROOT / file).read_text(encoding="utf-8")
    made = mutation_made if file.endswith(".py") else mutation_rules
    return made.mutants_of(file, source)


def _sampled(mutants: Sequence[Mutant], seed: int) -> list[Mutant]:
    """All of them in an order that the seed gives, so that any part of it is a fair sample."""
    return random.Random(seed).sample(mutants, len(mutants))


def _tried(area: str, mutants: Iterable[Mutant], seconds: float) -> Iterator[Tried]:
    """As many of the mutants as the time allows, each with what came of it."""
    pipe, end = subprocess.PIPE, time.monotonic() + seconds
    command = [sys.executable, str(_CHILD), area]
    with subprocess.Popen(command, stdin=pipe, stdout=pipe, text=True) as child:
        assert child.stdin is not None and child.stdout is not None  # noqa: PT018
        for number, mutant in enumerate(mutants, 1):
            if time.monotonic() > end:
                break
            child.stdin.write(json.dumps({"file": mutant.file, "source": mutant.source}) + "\n")
            child.stdin.flush()
            told = json.loads(child.stdout.readline() or '{"broken": "the process"}')
            if "broken" in told:
                raise SystemExit(f"{told['broken']}: its tests fail with the code as it is")
            yield mutant, told["answer"]
            if number % 25 == 0:
                print(f"{area}: {number}", file=sys.stderr, flush=True)
        child.stdin.close()


def _rows(
    area: str,
    made: Sequence[Mutant],
    tried: Sequence[Tried],
    known: Mapping[Key, str],
) -> Iterator[figures.Row]:
    """One line for each file."""
    of_all, of_tried = Counter(m.file for m in made), Counter(m.file for m, _ in tried)
    left = [mutant for mutant, answer in tried if answer == "survived"]
    for file in AREAS[area].tests:
        if not of_tried[file]:
            continue
        alive = [mutant for mutant in left if mutant.file == file]
        seen = sum(key(mutant) in known for mutant in alive)
        note = f"{of_all[file]} made; {len(alive)} survived, {seen} of them explained"
        yield figures.Row(file, of_tried[file], of_tried[file] - len(alive), note)


def _command(asked: argparse.Namespace) -> str:
    return f"python tests/faults/mutation.py {asked.area} --minutes {asked.minutes:g} --seed {asked.seed}"


if __name__ == "__main__":
    main()
