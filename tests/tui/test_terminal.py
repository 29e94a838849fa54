"""Nothing but the screen is seen while it is up."""

from __future__ import annotations

import subprocess
import sys

CODE = """
import os, sys
vars(os).pop("pread", None)  # as on Windows
from voicelog.tui.terminal import to_ourselves
try:
    with to_ourselves() as aside:
        os.write(2, b"a sound library\\n")
        print("another", file=sys.stderr)
        print("the screen", file=sys.__stderr__, flush=True)
        aside()
        os.write(2, b"and more\\n")
        said = aside()
        raise KeyError
except KeyError:
    pass
print("afterwards:", *said.split(), file=sys.stderr)
"""


def test_only_the_screen_is_seen_and_all_is_put_back() -> None:
    """Also when the app ends by a fault."""
    done = subprocess.run(
        [sys.executable, "-u", "-c", CODE], capture_output=True, text=True, check=True
    )
    assert done.stderr.splitlines() == [
        "the screen",
        "afterwards: a sound library another and more",
    ]
