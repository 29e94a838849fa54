"""A report for a buyer and a shop, in plain words, before it is a page: what every form of it shows.

All text is inert already (no control characters, no marks that turn the reading direction); what an
inspector said is told apart from what the program says by the field it stands in. It is put together
in :mod:`voicelog.report` and drawn in :mod:`voicelog.export`.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Row:
    """A label and what it is about, for example ``Odometer`` and ``82 000 miles``."""

    label: str
    value: str


@dataclass(frozen=True, slots=True)
class Answer:
    """One of the three questions of page one.

    Args:
        question: for example ``Move it today?``.
        answer: in a few words.
        because: reasons as sentences, the weightiest first.
        more: how many reasons there are beside those.
    """

    question: str
    answer: str
    because: tuple[str, ...] = ()
    more: int = 0


@dataclass(frozen=True, slots=True)
class Picture:
    """A photograph as it is shown.

    Args:
        name: its name in the log.
        data: the picture itself, a JPEG no larger than the page needs.
        caption: what it shows, when it was taken, how sure the matching is.
        alt: the same for somebody who cannot see it.
    """

    name: str
    data: bytes
    caption: str
    alt: str


@dataclass(frozen=True, slots=True)
class RuleLine:
    """A rule that fired.

    Args:
        id: its name in the log's rules.
        text: the rule as a sentence.
        source: where it comes from.
    """

    id: str
    text: str
    source: str


@dataclass(frozen=True, slots=True)
class Item:
    """One finding.

    Args:
        number: its number on the drawing.
        entry: its id in the log.
        grade: ``unsafe``, ``repair``, ``treat`` or ``cosmetic``: the worse of rule and inspector.
        letter: the letter that stands for the grade on the drawing.
        place: in plain words.
        carries: what that metal carries.
        what: what is the matter, with its measures.
        means: what the trade's name for that means, where a buyer may not know it.
        limits: what the grade is subject to, for example ``metal not reached``, ``maybe misheard``.
        said: the sentence as it was heard; empty where it was entered by hand.
        at: when it was said, local time with its offset, in words.
        measured: what somebody measured, as sentences.
        judged: what somebody judged: what the probe did, a grade they called.
        inferred: what the program worked out and nobody confirmed.
        overruled: rule and inspector side by side where they disagree; empty where they do not.
        rules: that fired.
        steps: what to do, in order.
        cautions: of its rules, to be heeded there; those of the work stand with the work list.
        history: earlier states and corrections, as sentences, oldest first.
        pictures: that show it.
        lacks: what evidence it still lacks, as a sentence; empty where nothing.
        could_be: what would have changed the grade, for example ``the probe went through: unsafe``.
    """

    number: int
    entry: str
    grade: str
    letter: str
    place: str
    carries: str
    what: str
    means: str = ""
    limits: tuple[str, ...] = ()
    said: str = ""
    at: str = ""
    measured: tuple[str, ...] = ()
    judged: tuple[str, ...] = ()
    inferred: tuple[str, ...] = ()
    overruled: str = ""
    rules: tuple[RuleLine, ...] = ()
    steps: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    history: tuple[str, ...] = ()
    pictures: tuple[Picture, ...] = ()
    lacks: str = ""
    could_be: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Work:
    """One row of the work list; ``number`` is that of the finding, 0 for places nobody saw.

    Its cautions are those that hold for it alone.
    """

    urgency: str
    number: int
    place: str
    what: str
    steps: tuple[str, ...]
    source: str
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Unseen:
    """Places, or an entry, that are still open.

    Args:
        place: in words; several that are open alike, parted by semicolons.
        open: what is open there, for example ``nobody looked inside``.
        reason: what the inspector gave as reason; may be empty.
        matters: how it could change the verdict, or that it could not by itself.
    """

    place: str
    open: str
    reason: str = ""
    matters: str = ""


@dataclass(frozen=True, slots=True)
class Coating:
    """The coating of one place on the published scales; says nothing of the steel under it."""

    place: str
    rusted: str
    d610: str
    iso4628: str
    imo: str


@dataclass(frozen=True, slots=True)
class KeyRow:
    """One line of the drawing's key: letter, the pattern's name in the drawing, and its meaning."""

    letter: str
    pattern: str
    meaning: str


@dataclass(frozen=True, slots=True)
class Signed:
    """A signature.

    Args:
        by: who signed.
        at: when, in words.
        sha256: over the lines it covers.
        lines: how many.
        open: what was unresolved, as sentences.
        why: the reason for signing all the same.
        later: what was changed afterwards, as a sentence; empty where nothing.
    """

    by: str
    at: str
    sha256: str
    lines: int
    open: tuple[str, ...] = ()
    why: str = ""
    later: str = ""


@dataclass(frozen=True, slots=True)
class Change:
    """One line of the comparison with an earlier inspection."""

    change: str
    text: str
    rate: str = ""


@dataclass(frozen=True, slots=True)
class Report:
    """Everything a report shows, in the order in which it shows it.

    Args:
        title: for example ``Frame inspection: pickup 12``.
        drive: ``do-not-drive``, ``no-danger-found-where-examined`` or ``not-enough-seen``.
        headline: the same, as large letters say it.
        under: one sentence below it.
        counted: how many important places were touched, how many hidden ones nobody saw; sentences.
        plan: the drawing, SVG, with title and description for screen readers.
        plan_alt: the same in words.
        key: of the drawing.
        answers: the three of page one.
        worst: at most five.
        more: how many findings page one does not show.
        next_step: what to do next, as sentences.
        vehicle: identity, date, inspector.
        conditions: how it stood, what was not possible.
        basis: three rows: measured, judged, inferred; each a sentence with its count.
        overruled: where rule and inspector disagree, as sentences.
        findings: all, the worst first.
        clear: places where nothing was found, and how well they were looked at, as sentences.
        work: in the order in which it should be done.
        work_cautions: that hold for more than one row of it.
        unseen: what is open.
        past: what was said of the vehicle's past, quoted.
        photos: pictures that belong to no finding.
        lacking: what evidence is missing still, as sentences.
        changes: since an earlier inspection; empty where none was given.
        compared: which earlier inspection that was, and warnings about it, as sentences.
        coating: off page one.
        pointers: public rules to look up, off page one; label is document and item.
        cautions: the usual ones.
        signatures: oldest first.
        chain: the log's id, its last line's hash, and what they prove and do not, as rows.
        notice: what the report is, and is not.
        made: program, version, ear, rules, when.
    """

    title: str
    drive: str
    headline: str
    under: str
    counted: tuple[str, ...]
    plan: str
    plan_alt: str
    key: tuple[KeyRow, ...]
    answers: tuple[Answer, ...]
    worst: tuple[Item, ...]
    more: int
    next_step: tuple[str, ...]
    vehicle: tuple[Row, ...]
    conditions: tuple[Row, ...]
    basis: tuple[Row, ...]
    overruled: tuple[str, ...]
    findings: tuple[Item, ...]
    clear: tuple[str, ...]
    work: tuple[Work, ...]
    work_cautions: tuple[str, ...]
    unseen: tuple[Unseen, ...]
    past: tuple[str, ...]
    photos: tuple[Picture, ...]
    lacking: tuple[str, ...]
    changes: tuple[Change, ...]
    compared: tuple[str, ...]
    coating: tuple[Coating, ...]
    pointers: tuple[Row, ...]
    cautions: tuple[str, ...]
    signatures: tuple[Signed, ...]
    chain: tuple[Row, ...]
    notice: str
    made: tuple[Row, ...]
