"""What befalls the machine: microphone, speaker, ears, terminal, signals.

Every case is a real ``voicelog start`` in a process of its own, with the real ear, on a sound card
that is worked by hand (``machine_host.py``). What the person hears is what reaches the loudspeaker,
tones by their names; what is seen is read off the terminal. A case has come through when all that
it asks for was heard and seen, the exit status is right, what was said is in the log as sound,
sample for sample, the log ends in order, verifies, and can be gone on with.

    python tests/faults/machine.py                 all cases, two at a time
    python tests/faults/machine.py unplugged lid   only these
    python tests/faults/machine.py --write         put the table into tests/faults/REPORT.md
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

import figures
import machine_ears  # noqa: F401
import machine_microphone  # noqa: F401
import machine_signals  # noqa: F401
import machine_terminal  # noqa: F401
from machine_case import CASES, Case, Outcome, Stage

COMMAND = "python tests/faults/machine.py --write"
ABOUT = "what the person hears and sees; exit status; the log"


def played(case: Case, folder: Path) -> Outcome:
    """What came of a case.

    Args:
        case: which.
        folder: for its files alone.
    """
    stage = Stage(folder)
    try:
        return case.play(stage)
    except AssertionError as fault:
        return Outcome((), (), -1, "?", (str(fault),))
    finally:
        stage.close()


def main(arguments: Sequence[str] | None = None) -> int:
    """Play the cases, print the table; 1 where one has not come through."""
    asked = _asked(arguments)
    chosen = [case for case in CASES if not asked.names or case.name in asked.names]
    begun = time.monotonic()
    with tempfile.TemporaryDirectory() as folder, ThreadPoolExecutor(asked.at_once) as pool:
        runs = [pool.submit(played, case, Path(folder) / case.name) for case in chosen]
        outcomes = []
        for case, run in zip(chosen, runs, strict=True):
            outcomes.append(run.result())
            _tell(case, outcomes[-1])
    rows = [_row(case, outcome) for case, outcome in zip(chosen, outcomes, strict=True)]
    bad = sum(bool(outcome.faults) for outcome in outcomes)
    print(f"{len(rows) - bad} of {len(rows)} came through, {time.monotonic() - begun:.0f} s")
    if asked.write:
        figures.write("machine", COMMAND, rows, about=ABOUT)
    return bool(bad)


def _asked(arguments: Sequence[str] | None) -> argparse.Namespace:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("names", nargs="*", help="cases; all when left out")
    parser.add_argument("--at-once", type=int, default=2, help="processes at a time [2]")
    parser.add_argument("--write", action="store_true", help="put it into tests/faults/REPORT.md")
    return parser.parse_args(arguments)


def _tell(case: Case, outcome: Outcome) -> None:
    print(f"{'FAILED' if outcome.faults else 'ok':<7}{case.name:<20} {case.what}")
    print(f"       {outcome.told}")
    for fault in outcome.faults:
        print("       ! " + fault.replace("\n", "\n         "), flush=True)


def _row(case: Case, outcome: Outcome) -> figures.Row:
    told = outcome.told + "".join(f" · **{fault}**" for fault in outcome.faults)
    return figures.Row(f"{case.part}: {case.what}", 1, int(not outcome.faults), told)


if __name__ == "__main__":
    sys.exit(main())
