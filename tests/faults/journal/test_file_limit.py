"""A real refusal by the system in the middle of a line: the limit on a file's size.

The kernel takes the bytes that fit and refuses the rest, exactly as a full disk does; unlike a
mounted disk it needs no rights.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from voicelog.journal.reading import read_log, verify

CHILD = """
import resource, signal, sys
from pathlib import Path
from voicelog.errors import StorageFault
from voicelog.journal.journal import Journal

signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
journal = Journal.create(Path(sys.argv[1]), opened={}, grammar={})
path = journal.folder / "journal.jsonl"
whole = path.stat().st_size
_, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
resource.setrlimit(resource.RLIMIT_FSIZE, (whole + 100, hard))
try:
    journal.append("utterance", {"utterance": "u2", "text": "x" * 500})
except StorageFault as fault:
    print(fault.message)
print(path.stat().st_size == whole)
resource.setrlimit(resource.RLIMIT_FSIZE, (hard, hard))
journal.append("utterance", {"utterance": "u2", "text": "y" * 500})
print(journal.folder)
"""


def test_half_a_line_taken_by_the_system_is_taken_back(tmp_path: Path) -> None:
    """The child is told, the journal ends with a whole line, and the next try succeeds."""
    command = [sys.executable, "-c", CHILD, str(tmp_path)]
    ran = subprocess.run(command, capture_output=True, text=True, timeout=60, check=False)
    assert ran.returncode == 0, ran.stderr
    told, put_back, folder = ran.stdout.splitlines()
    assert told == "The journal could not be written (File too large)"
    assert put_back == "True"
    assert read_log(Path(folder)).facts[1].body["text"] == "y" * 500
    assert verify(Path(folder)).ok
