"""Standard streams that are closed, or that nobody reads: a status, and nothing odd."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="its shell closes no streams")

READ = ("-m", "voicelog", "read", "left sill, surface rust")


def _run(redirected: str, *arguments: str) -> subprocess.CompletedProcess[str]:
    command = ["sh", "-c", f'exec "$@" {redirected}', "sh", sys.executable, *arguments]
    return subprocess.run(command, capture_output=True, text=True, timeout=60, check=False)


@pytest.mark.parametrize("redirected", ["<&-", ">&-", "2>&-", "<&- >&- 2>&-"])
def test_a_closed_stream_is_an_empty_one(redirected: str) -> None:
    """Whoever starts it may have none to give."""
    done = _run(redirected, *READ)
    assert (done.returncode, done.stderr) == (0, "")


def test_what_is_opened_next_does_not_take_its_number(tmp_path: Path) -> None:
    """Else a log would be written to as if it were the terminal."""
    code = (
        "import os, sys; from voicelog.cli import streams; streams.fill();"
        "print(open(sys.argv[1], 'w').fileno() > 2, sys.stdin.fileno() == 0, file=sys.stderr)"
    )
    done = _run("<&- >&-", "-c", code, str(tmp_path / "log"))
    assert done.stderr.split() == ["True", "True"]


def test_output_that_nobody_reads_ends_it_without_a_word() -> None:
    """As other programs end in a pipe: by the status that shells give to SIGPIPE."""
    command = [sys.executable, *READ]
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    ) as child:
        assert child.stdout is not None
        assert child.stderr is not None
        child.stdout.close()
        said = child.stderr.read()
    assert (child.returncode, said) == (141, "")
