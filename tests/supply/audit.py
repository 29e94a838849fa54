"""Are any of the packages installed here known to be unsafe? Asks pip-audit, and tells what it could not ask.

``python tests/supply/audit.py`` leaves with 1 when a vulnerability is known for an installed version, and with
0 when none is, or when the database of advisories cannot be reached: then it says so, loudly, because
"nothing known" and "nobody asked" are not the same. With ``--must-ask`` the latter is a failure as well.
"""

from __future__ import annotations

import argparse
import json
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import dataclass

AUDIT = ("-m", "pip_audit", "--format", "json", "--progress-spinner", "off", "--skip-editable")
LONGEST_S = 240.0
"""So long is waited for the database."""


@dataclass(frozen=True, slots=True)
class Audited:
    """What came of asking.

    Args:
        known: a line for each package with a known vulnerability.
        asked: packages that the database knew.
        unasked: packages that it could not be asked about.
    """

    known: tuple[str, ...]
    asked: int
    unasked: int


def judged(answer: str) -> Audited:
    """What pip-audit's JSON says; text that is none means that nothing could be asked."""
    try:
        packages = json.loads(answer)["dependencies"]
    except (ValueError, KeyError, TypeError):
        return Audited((), 0, 0)
    told = [package for package in packages if "vulns" in package]
    known = tuple(map(_line, (package for package in told if package["vulns"])))
    return Audited(known, len(told), len(packages) - len(told))


def _line(package: dict[str, object]) -> str:
    vulnerabilities = package["vulns"]
    assert isinstance(vulnerabilities, list)
    ids = ", ".join(
        f"{v['id']} (mended in {', '.join(v['fix_versions']) or 'none yet'})"
        for v in vulnerabilities
    )
    return f"{package['name']} {package['version']}: {ids}"


def code_of(audited: Audited, *, must_ask: bool = False) -> int:
    """1 for anything known, or where nobody could be asked and somebody must be."""
    return int(bool(audited.known) or (must_ask and not audited.asked))


def main(arguments: Sequence[str] | None = None) -> int:
    """Ask, tell, and give the exit code."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawTextHelpFormatter
    )
    parser.add_argument("--must-ask", action="store_true", help="fail where nobody could be asked")
    must_ask = parser.parse_args(arguments).must_ask
    audited = judged(_asked())
    for line in audited.known:
        print(f"KNOWN TO BE UNSAFE: {line}")
    print(f"{audited.asked} packages asked about, {len(audited.known)} known to be unsafe")
    if not audited.asked:
        print("NOT AUDITED: the database of advisories could not be reached from here")
    elif audited.unasked:
        print(f"{audited.unasked} packages are not in the database")
    return code_of(audited, must_ask=must_ask)


def _asked() -> str:
    """pip-audit's answer; nothing where it failed or took too long."""
    try:
        done = subprocess.run(
            [sys.executable, *AUDIT], capture_output=True, text=True, timeout=LONGEST_S, check=False
        )
    except subprocess.TimeoutExpired:
        return ""
    return done.stdout


if __name__ == "__main__":
    sys.exit(main())
