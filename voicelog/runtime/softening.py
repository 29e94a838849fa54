"""The guard at the bench: what is unsafe is never called less without a word on why."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from voicelog.domain.entry import Finding
from voicelog.domain.grade import Grade
from voicelog.errors import SofteningFault
from voicelog.tongue import to_word, worded

_SAY_WHY = to_word("Say why (--why), and it is written down with the change")


def refuse_softening(before: Mapping[str, Finding], after: Sequence[Finding]) -> None:
    """Refuse a deed after which an entry that is unsafe no longer would be.

    Args:
        before: the entries it touches, by id, as they stand.
        after: the same, and new ones, as they would stand.

    Raises:
        SofteningFault: naming the first such entry; a reason given with the deed lets it pass.
    """
    for finding in after:
        earlier = before.get(finding.entry.id)
        if earlier is not None and _is_unsafe(earlier) and not _is_unsafe(finding):
            raise SofteningFault(
                worded(
                    "{entry} is unsafe and would be {as_it_would_be}",
                    entry=finding.entry.id,
                    as_it_would_be=_as_it_would_be(finding),
                ),
                worded(_SAY_WHY),
            )


def refuse_milder(before: Mapping[str, Finding], after: Sequence[Finding]) -> None:
    """Refuse a merge whose one entry would be graded milder than the worse of the two.

    Args:
        before: the entries that become one, by id, as they stand.
        after: the same as they would stand.

    Raises:
        SofteningFault: naming the grade that would be lost; a reason lets it pass.
    """
    worst = max(map(_rank, before.values()))
    kept = max(map(_rank, after))
    if kept < worst:
        lost = next(finding for finding in before.values() if _rank(finding) == worst)
        raise SofteningFault(
            worded(
                "{entry} is {grade}, and what they become would be milder",
                entry=lost.entry.id,
                grade=lost.grade,
            ),
            worded(_SAY_WHY),
        )


def _is_unsafe(finding: Finding) -> bool:
    return finding.grade is Grade.UNSAFE and not finding.withdrawn


def _rank(finding: Finding) -> int:
    return -1 if finding.grade is None or finding.withdrawn else finding.grade.rank


def _as_it_would_be(finding: Finding) -> str:
    if finding.withdrawn:
        return worded("withdrawn")
    return str(finding.grade or finding.entry.kind)
