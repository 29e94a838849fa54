"""The guard at the bench: what is unsafe is never called less without a word on why."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from voicelog.domain.entry import Finding
from voicelog.domain.grade import Grade
from voicelog.errors import SofteningFault


def refuse_softening(
    before: Mapping[str, Finding], after: Sequence[Finding], *, merging: bool = False
) -> None:
    """Refuse a deed after which an entry that is unsafe no longer would be.

    Args:
        before: the entries it touches, by id, as they stand.
        after: the same, and new ones, as they would stand.
        merging: one of them takes the others in; as long as it is unsafe, nothing is lost.

    Raises:
        SofteningFault: naming the first such entry; a reason given with the deed lets it pass.
    """
    if merging and any(map(_is_unsafe, after)):
        return
    for finding in after:
        earlier = before.get(finding.entry.id)
        if earlier is not None and _is_unsafe(earlier) and not _is_unsafe(finding):
            raise SofteningFault(
                f"{finding.entry.id} is unsafe and would be {_as_it_would_be(finding)}",
                "Say why (--why), and it is written down with the change",
            )


def _is_unsafe(finding: Finding) -> bool:
    return finding.grade is Grade.UNSAFE and not finding.withdrawn


def _as_it_would_be(finding: Finding) -> str:
    if finding.withdrawn:
        return "withdrawn"
    return str(finding.grade or finding.entry.kind)
