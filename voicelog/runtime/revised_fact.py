"""One correction at the bench as the body of its fact."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from voicelog.domain.change_json import change_to_json
from voicelog.domain.entry import Change, Finding
from voicelog.runtime.utterance_fact import grades_told


def revised_body(
    did: str,
    by: str,
    why: str,
    changes: Iterable[Change],
    findings: Iterable[Finding],
    more: Mapping[str, Any],
) -> dict[str, Any]:
    """The body of a ``revised`` line.

    Args:
        did: the deed.
        by: who did it.
        why: the reason given; may be empty.
        changes: what it changed.
        findings: the entries touched, as they stand after it.
        more: what else the line says; None leaves a key out.
    """
    body: dict[str, Any] = {
        "did": did, "by": by, "why": why, **more,
        "changes": [change_to_json(change) for change in changes],
        "graded": grades_told(findings),
    }  # fmt: skip
    return {name: value for name, value in body.items() if value not in ("", None, {})}
