"""One finding in full."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from voicelog.domain.advice import Explanation, WhatIf, WorkItem
from voicelog.domain.entry import Finding
from voicelog.domain.grade import Rule
from voicelog.domain.report import Item, RuleLine
from voicelog.domain.zone import Layout, Role, Zone
from voicelog.findings.grading import worst_said
from voicelog.findings.wording import condition_in_words, details_in_words
from voicelog.report.basis import inferred, judged, measured, overruled
from voicelog.report.evidence import lacks
from voicelog.report.material import Book
from voicelog.report.once_unsafe import once_unsafe
from voicelog.report.pictures import pictures_of
from voicelog.report.plainly import means
from voicelog.report.wording import in_local_time, raised, with_numbers
from voicelog.tongue import to_word, worded

LETTERS: Mapping[str, str] = {"unsafe": "U", "repair": "R", "treat": "T", "cosmetic": "C"}
"""The letter that stands for a grade on the drawing."""

_CARRIES: Mapping[Role, str] = {
    Role.LOAD_PATH: to_word("the load of the whole vehicle runs through it"),
    Role.CRITICAL: to_word("steering, suspension, brakes or belts hang on it"),
    Role.SUPPORT: to_word("it holds the body or the engine on the frame"),
    Role.CRUSH: to_word("it folds in a crash, to spare the people inside"),
    Role.PANEL: to_word("it closes the body"),
    Role.FLUID_LINE: to_word("fuel or brake fluid runs through it"),
    Role.ATTACHED: to_word("it hangs on the frame"),
}
"""What a place carries, where its map does not say; common practice, no source."""

_MOST_WHAT_IFS = 3


def items(book: Book) -> tuple[Item, ...]:
    """Every finding, the worst first."""
    works = {work.entry: work for work in book.material.advice.work if work.entry}
    return tuple(
        _item(number, finding, book, works.get(finding.entry.id))
        for number, finding in enumerate(book.findings, 1)
    )


def _item(number: int, finding: Finding, book: Book, work: WorkItem | None) -> Item:
    entry, grade = finding.entry, str(worst_said(finding))
    why = book.material.advice.explanations.get(entry.id)
    return Item(
        number=number,
        entry=entry.id,
        grade=grade,
        letter=LETTERS.get(grade, "?"),
        place=book.place(entry.slots),
        carries=carries(book.zone(entry.slots)),
        what=what(finding),
        means=means(entry),
        limits=tuple(limits(finding, book)),
        said=entry.text,
        at=in_local_time(entry.at, book.opened),
        measured=measured(finding, book),
        judged=judged(finding),
        inferred=inferred(finding, book),
        overruled=overruled(finding),
        rules=_rules(finding, why, book),
        steps=steps_of(work, book) if work else (),
        cautions=finding.cautions,
        history=book.material.histories.get(entry.id, ()),
        pictures=pictures_of(number, finding, book),
        lacks=lacks(finding, book),
        could_be=tuple(_if(one, finding) for one in why.what_ifs[:_MOST_WHAT_IFS]) if why else (),
    )


def steps_of(work: WorkItem, book: Book) -> tuple[str, ...]:
    """What to do, with numbers for entries."""
    return tuple(with_numbers(step, book.numbers) for step in work.steps)


def what(finding: Finding) -> str:
    """What is the matter, with its measures; that the inspector was not sure stands elsewhere."""
    entry = finding.entry
    details = (detail for detail in details_in_words(entry) if detail != "tentative")
    return raised(", ".join((condition_in_words(entry) or worded("a fault not named"), *details)))


def carries(zone: Zone | None) -> str:
    """What a place carries, for somebody who has never seen a frame; empty for an unknown one."""
    return "" if zone is None else zone.carries or worded(_CARRIES[zone.role])


def limits(finding: Finding, book: Book) -> Iterator[str]:
    """What the grade is subject to, in a few words each."""
    entry, zone = finding.entry, book.zone(finding.entry.slots)
    if finding.unproven:
        yield worded("metal not reached, may be worse")
    if before := once_unsafe(finding, book):
        yield before
    if entry.doubtful:
        yield worded("maybe misheard")
    if entry.slots.get("certainty") == "tentative":
        yield worded("the inspector was not sure")
    if entry.place_assumed:
        yield worded("place carried over")
    if zone is None:
        yield worded("place not on the map") if "zone" in entry.slots else worded("place not said")
    elif zone.layout is Layout.PAIR and "side" not in entry.slots:
        yield worded("side not said")


def _rules(finding: Finding, why: Explanation | None, book: Book) -> tuple[RuleLine, ...]:
    """The rules that fired, each with what it did to this grade where that is known."""
    if why is not None:
        return tuple(_line(rule, told) for rule, told in zip(why.fired, why.told, strict=False))
    known = {rule.id: rule for rule in book.material.rules.rules}
    return tuple(_line(known[name]) for name in finding.rules if name in known)


def _line(rule: Rule, told: str = "") -> RuleLine:
    text = f"{rule.text} {raised(told)}" if told and told not in rule.text else rule.text
    return RuleLine(rule.id, text, rule.source)


def _if(what_if: WhatIf, finding: Finding) -> str:
    """What would have been said, and the grade then; that one stays says what it would be proven by."""
    same = (worded("still") + " ") if what_if.grade is worst_said(finding) else ""
    rest = worded(", metal still not reached") if what_if.unproven else ""
    proven = worded(", but proven") if finding.unproven and same and not rest else rest
    return f"{what_if.said}: {same}{what_if.grade}{proven}"
