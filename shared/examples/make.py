"""Makes the examples in ``valid/`` by running the program: ``python shared/examples/make.py``.

Two inspections of one vehicle (``inspections.py``): what is said comes from a list in place of a
recogniser, the clock is held (``pretended.py``), everything else is the program as it is. The hashes of
clips and pictures depend on the libraries that packed them, those of the grammar on every word of it:
whoever compares two runs leaves hashes out. ``invalid/`` was made by hand from shorter documents.
"""

from __future__ import annotations

import json
import sys
import tempfile
from pathlib import Path
from typing import Any

from inspections import LOGS, Run
from pretended import held_still

from voicelog.export.comparison import comparison_document
from voicelog.export.json_file import write_json
from voicelog.journal.naming import JOURNAL
from voicelog.runtime.comparing import compared

VALID = Path(__file__).parent / "valid"

LINES = {
    "opened": 1, "finding": 2, "amended": 6, "doubtful": 11, "withdrawn": 13, "of-another-type": 16,
    "closed": 17, "photo": 18, "vehicle": 19, "listened": 20, "corrected": 21, "said-again": 23,
    "learned": 24, "undone": 26, "signed": 27,
}  # fmt: skip
"""Lines of the second inspection that stand by themselves as well, by what they show."""


def made(home: Path) -> dict[str, Any]:
    """Every example by its name, and the journal's bytes."""
    with held_still(iter(LOGS.values()), home) as held:
        run = Run(home, held)
        older, newer = run.then(), run.now()
        run.afterwards(newer)
        run.reviewed(newer)
        journal = (newer / JOURNAL).read_bytes()
        lines, before = journal.splitlines(), (older / JOURNAL).read_bytes().splitlines()
        other = (
            comparison_document(compared(older, newer)),
            comparison_document(compared(older, older)),
        )
        run.commands(newer)
        facts = {f"fact-{name}.json": json.loads(lines[n - 1]) for name, n in LINES.items()}
        return run.made | facts | {
            "fact-second-opinion.json": json.loads(before[2]),
            "comparison-pickup.json": other[0],
            "comparison-nothing-changed.json": other[1],
            "journal.jsonl": journal,
        }  # fmt: skip


def main(target: Path = VALID) -> None:
    """Writes them into a folder."""
    with tempfile.TemporaryDirectory() as home:
        (target / "commands").mkdir(exist_ok=True)
        for name, example in made(Path(home)).items():
            if isinstance(example, bytes):
                (target / name).write_bytes(example)
            else:
                write_json(example, target / name)


if __name__ == "__main__":
    main(*map(Path, sys.argv[1:2]))
