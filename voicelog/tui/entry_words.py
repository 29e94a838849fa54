"""An entry in the words of the screen: one line for the list, a few for the card."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from voicelog.domain.entry import Entry, Finding, Inspection, Kind
from voicelog.domain.inert import inert
from voicelog.domain.zone import ZoneMap
from voicelog.findings.places import place_in_words
from voicelog.findings.wording import question_in_words, spelt_in_words, what_in_words
from voicelog.tongue import worded
from voicelog.tui.looks import KINDS, look_of_grade

LONGEST = 240
"""Characters of one text that are shown; the log keeps them all."""


def trimmed(finding: Finding) -> Finding:
    """The entry with its texts cut to what a screen can show, before they cost any time."""
    entry = finding.entry
    slots = {k: inert(v, LONGEST) if isinstance(v, str) else v for k, v in entry.slots.items()}
    short = replace(
        entry,
        slots=slots, text=inert(entry.text, LONGEST), reason=inert(entry.reason, LONGEST),
        doubts=tuple(inert(doubt, LONGEST) for doubt in entry.doubts[:4]),
    )  # fmt: skip
    cautions = tuple(inert(caution, LONGEST) for caution in finding.cautions)
    return replace(finding, entry=short, cautions=cautions, history=())


def place_words(entry: Entry, zone_map: ZoneMap) -> str:
    """Where it is; what was said, where it has no place."""
    if entry.kind is Kind.REMARK and not entry.unplaced:
        return spelt_in_words(entry) or f"“{entry.text}”"
    place = inert(place_in_words(entry.slots, zone_map), LONGEST)
    return worded("{place} (assumed)", place=place) if entry.place_assumed else place


def what_words(finding: Finding) -> str:
    """What is the matter there; for a remark, that it is one."""
    entry = finding.entry
    if entry.kind is Kind.REMARK:
        return ", ".join([worded("remark"), *(tag.replace("-", " ") for tag in entry.tags)])
    return what_in_words(finding) or KINDS[entry.kind].name


def why_words(finding: Finding, rules: Mapping[str, str]) -> Iterator[str]:
    """Why it has its grade: the rules that fired, as sentences where they are known."""
    for rule in finding.rules:
        yield inert(rules.get(rule) or worded("rule {rule}", rule=rule), LONGEST)


def limit_words(finding: Finding) -> Iterator[str]:
    """What limits the grade: metal not reached, another grade spoken, doubt."""
    if finding.withdrawn:
        yield worded("withdrawn")
    yield from grade_limits(finding)
    if finding.entry.doubtful:
        yield worded("? doubtful")


def grade_limits(finding: Finding) -> Iterator[str]:
    """What limits the grade beside doubt: metal not reached, another grade spoken."""
    if finding.unproven:
        yield worded("metal not reached")
    if finding.spoken_grade is not None and finding.spoken_grade != finding.grade:
        yield worded("you said {grade}", grade=look_of_grade(finding.spoken_grade).name)


def doubt_words(entry: Entry, zone_map: ZoneMap) -> Iterator[str]:
    """Why it should be listened to again, and what is asked."""
    yield from (worded("listen again: {doubt}", doubt=doubt) for doubt in entry.doubts)
    yield from (
        inert(question_in_words(question, zone_map), LONGEST) for question in entry.questions[:4]
    )


def worth_listing(inspection: Inspection) -> list[Finding]:
    """The entries of the list, newest first: all that hold, but for idle remarks."""
    return [finding for finding in reversed(inspection.live) if _is_told(finding.entry)]


def _is_told(entry: Entry) -> bool:
    return entry.kind is not Kind.REMARK or entry.unplaced or bool(entry.tags)


def most_telling(findings: tuple[Finding, ...]) -> Finding | None:
    """Of the entries one utterance touched, the one for the card: the worst, else the last."""
    ranked = [(f.grade.rank if f.grade else -1, n, f) for n, f in enumerate(findings)]
    return max(ranked, default=(0, 0, None), key=lambda item: item[:2])[2]
