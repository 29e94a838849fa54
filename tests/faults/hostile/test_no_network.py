"""The demonstration without a network: by an audit hook always, in an empty one where that may be made."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

import pytest
from hostile_guard import REFUSED

GUARD = Path(__file__).with_name("hostile_guard.py")


def _apart() -> list[str]:
    """What puts a program into a network of its own, in which there is nothing; empty where this
    machine does not let us.
    """
    command = ["unshare", "--net", "--map-root-user"]
    if shutil.which("unshare") is None:
        return []
    return command if subprocess.run([*command, "true"], check=False).returncode == 0 else []


def _guarded(home: Path, *command: object) -> subprocess.CompletedProcess[str]:
    kept = {k: v for k, v in os.environ.items() if not k.startswith("VOICELOG_")}
    folders = dict.fromkeys(
        ("HOME", "XDG_CONFIG_HOME", "XDG_CACHE_HOME", "XDG_DATA_HOME"), str(home)
    )
    words: Sequence[object] = (*_apart(), sys.executable, *command)
    return subprocess.run(
        list(map(str, words)), env={**kept, **folders, "VOICELOG_SECOND_EAR": "off"}, cwd=home,
        capture_output=True, text=True, timeout=900, check=False,
    )  # fmt: skip


def test_the_demo_reaches_for_no_network(tmp_path: Path) -> None:
    """All of it: the ear, the log, the export; the same findings as with a network."""
    done = _guarded(tmp_path, GUARD, "demo", "--into", tmp_path / "logs")
    assert done.returncode == 0, done.stderr
    assert "Verdict on what was said" in done.stdout
    assert "reached for the network" not in done.stderr
    (log,) = (tmp_path / "logs").iterdir()
    assert (log / "inspection.json").is_file()


@pytest.mark.parametrize(
    "reaching",
    ["socket.getaddrinfo('localhost', 80)", "socket.create_connection(('127.0.0.1', 9))",
     "socket.socket(socket.AF_INET, socket.SOCK_DGRAM).sendto(b'x', ('127.0.0.1', 9))",
     "urllib.request.urlopen('http://127.0.0.1:9/')"],
)  # fmt: skip
def test_the_guard_would_notice(reaching: str, tmp_path: Path) -> None:
    """Each way of reaching out ends the program at once, whatever it would catch."""
    script = tmp_path / "reach.py"
    script.write_text(
        f"import sys; sys.path.insert(0, {str(GUARD.parent)!r})\n"
        "import hostile_guard, socket, urllib.request\n"
        "sys.addaudithook(hostile_guard._hook)\n"
        f"try:\n    {reaching}\nexcept BaseException:\n    pass\n"
    )
    assert _guarded(tmp_path, script).returncode == REFUSED
