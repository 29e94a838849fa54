"""A summary in words for people, harmless on any terminal."""

from __future__ import annotations

import re
from typing import Any

from parts import WORST_FIRST

_UNSEEMLY = re.compile(
    "[\\x00-\\x1f\\x7f-\\x9f\\u00ad\\u061c\\u200b-\\u200f\\u2028-\\u202e\\u2060-\\u206f\\ufeff"
    "\\ud800-\\udfff]"
)
"""What could steer a terminal, hide, or turn the reading direction round."""


def as_text(summary: dict[str, Any]) -> str:
    """A summary for people."""
    state = "closed" if summary["closed"] else "still open, or never closed"
    lines = [f"Log {summary['log']}, {state}", *map(_line, summary["findings"])]
    counts = [f"{count} {grade}" for grade, count in summary["grades"].items() if count]
    lines += [f"Findings: {', '.join(counts) or 'none'}"]
    verdict = summary.get("verdict")
    if verdict:
        lines += ["Verdict: {drive}; work: {work}; overall: {tier}".format(**verdict)]
    lines += ["Could still change it:" if verdict else "To be looked at or listened to again:"]
    lines += [f"  {_where(one)}: {_why(one)}" for one in summary["open"]] or ["  nothing"]
    if not verdict:
        lines += [
            "The verdict, and the places nobody spoke of, stand in the finished document only."
        ]
    return "\n".join(map(shown, [*lines, *summary["notes"]]))


def _line(found: dict[str, Any]) -> str:
    marks = ", DOUBTFUL" * found["doubtful"] + ", CHANGED AFTER SIGNING" * found["after_signing"]
    grade = found["grade"].upper() if found["grade"] in WORST_FIRST[:2] else found["grade"]
    return f"  {grade} {_where(found)}{marks}"


def _where(one: dict[str, Any]) -> str:
    keys = ("entry", "zone", "side", "face", "condition")
    return " ".join(one[key] for key in keys if key in one) or "?"


def _why(one: dict[str, Any]) -> str:
    """Why it is open, in the word of the contract, and the inspector's reason where there is one."""
    reason = f" ({one['reason']})" if one.get("reason") else ""
    return f"{one.get('why', '?')}{reason}"


def shown(text: str) -> str:
    """Text that does nothing on a terminal."""
    return _UNSEEMLY.sub("\ufffd", text)
