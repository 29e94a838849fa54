"""The first line: which log, how it stands, who signed it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timezone

from textual.content import Content
from textual.reactive import reactive
from textual.widget import Widget

from voicelog.domain.entry import Finding
from voicelog.domain.grade import Grade
from voicelog.domain.inert import inert
from voicelog.domain.local_time import stamp
from voicelog.domain.revision import Signature

NOT_SIGNED = "NOT SIGNED"


class HeadLine(Widget):
    """What the log is on the left, its signature on the right."""

    told: reactive[str] = reactive("")
    signed: reactive[str] = reactive(NOT_SIGNED)
    changed: reactive[bool] = reactive(False)

    def render(self) -> Content:
        """The right side always has its room; the left is cut off."""
        right = Content.styled(f" {self.signed} ", _style(self.signed, changed=self.changed))
        room = max(0, self.content_size.width - right.cell_length - 1)
        left = Content.assemble(("REVIEW", "bold $accent"), "  ", self.told)
        return Content.assemble(left.truncate(room, ellipsis=True, pad=True), " ", right)


def log_words(subject: str, findings: Sequence[Finding], by: str, day: str) -> str:
    """What the log is, in a few words."""
    holding = [finding for finding in findings if not finding.withdrawn]
    unsafe = sum(finding.grade is Grade.UNSAFE for finding in holding)
    doubtful = sum(f.entry.doubtful or f.entry.unplaced for f in holding)
    gone = len(findings) - len(holding)
    parts = [
        inert(subject, 40) or "no name", f"{len(holding)} entries", f"{unsafe} unsafe",
        f"{doubtful} doubtful", f"{gone} withdrawn" if gone else "", f"reviewer {inert(by, 30)}", day,
    ]  # fmt: skip
    return " · ".join(part for part in parts if part)


def signed_words(signature: Signature | None, changes: int, zone: timezone) -> str:
    """Who signed it and when, and what was changed since."""
    if signature is None:
        return NOT_SIGNED
    since = f" · {changes} change{'s' if changes != 1 else ''} since" if changes else ""
    return f"SIGNED {inert(signature.by, 30)} {stamp(signature.at, zone)}{since}"


def _style(signed: str, *, changed: bool) -> str:
    tone = "ask" if changed or signed == NOT_SIGNED else "calm"
    return f"bold $tone-{tone}-ink on $tone-{tone}"
