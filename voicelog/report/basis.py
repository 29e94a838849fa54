"""What findings rest on: what a person measured, what they judged, what only the program inferred."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from voicelog.domain.entry import Entry, Finding
from voicelog.domain.report import Row
from voicelog.domain.told_length import told_number
from voicelog.findings.grading import worst_said
from voicelog.findings.thickness import loss_in_words
from voicelog.findings.wording import question_in_words
from voicelog.report.material import Book
from voicelog.report.wording import counted, grouped
from voicelog.tongue import to_word, worded

_MEASURES: Mapping[str, str] = {
    "count": to_word("{number} of them"), "size_mm": to_word("{number} mm across"), "width_mm": to_word("{number} mm wide"),
    "depth_mm": to_word("{number} mm deep"), "thickness_mm": to_word("wall {number} mm thick"),
    "nominal_mm": to_word("wall {number} mm when new, as it was told"), "loss_percent": to_word("{number} % of the wall gone"),
    "mount_distance_mm": to_word("{number} mm from a mounting"),
}  # fmt: skip
_PROBES: Mapping[str, str] = {
    "firm": to_word("firm under the probe"), "dull": to_word("it sounded dull"), "dents": to_word("it took a dent"),
    "moves": to_word("it moved under the probe"), "soft": to_word("soft under the probe"),
    "through": to_word("the probe went through"),
}  # fmt: skip
_METHODS: Mapping[str, str] = {
    "seen": to_word("looked at"), "tapped": to_word("tapped"), "scraped": to_word("scraped"), "probed": to_word("probed"),
    "scoped": to_word("looked into with a camera"), "gauged": to_word("measured with a gauge"),
}  # fmt: skip


def measured(finding: Finding, book: Book) -> tuple[str, ...]:
    """What somebody measured or counted, as phrases; a wall loss with its uncertainty."""
    entry, why = finding.entry, book.material.advice.explanations.get(finding.entry.id)
    loss = why.loss if why else None
    whole = loss is not None and loss.measured_mm is not None and loss.nominal_mm is not None
    told = [
        worded(shape, number=_number(entry, slot))
        for slot, shape in _MEASURES.items()
        if slot in entry.slots and not (whole and slot == "loss_percent")
    ]
    if loss is None or not whole:
        return tuple(told)
    return (*told, loss_in_words(loss, book.material.rules.limits).rstrip("."))


def _number(entry: Entry, slot: str) -> str:
    """The slot's number, or both ends of the range it was said as; what is no number, as it is."""
    value = entry.slots[slot]
    if isinstance(value, str):
        return value
    return worded(" to ").join(
        grouped(told_number(end, slot)) for end in entry.ranges.get(slot) or (value,)
    )


def judged(finding: Finding) -> tuple[str, ...]:
    """What the inspector judged: what the probe did, how it was looked at, shares told by eye."""
    return tuple(_judged(finding.entry, finding))


def _judged(entry: Entry, finding: Finding) -> Iterator[str]:
    slots = entry.slots
    if "probe" in slots:
        probe = str(slots["probe"])
        yield worded(_PROBES[probe]) if probe in _PROBES else worded("probe {probe}", probe=probe)
    if "method" in slots:
        method = _METHODS.get(str(slots["method"]), str(slots["method"]))
        yield worded(method)
    if "surround" in slots:
        firm = slots["surround"] == "firm"
        yield worded("solid metal around it") if firm else worded("no solid metal around it")
    if "area_percent" in slots:
        yield worded(
            "{number} % of the surface, told by eye", number=_number(entry, "area_percent")
        )
    if finding.spoken_grade is not None:
        yield worded("called it {spoken_grade}", spoken_grade=finding.spoken_grade)
    if slots.get("certainty") == "tentative":
        yield worded("was not sure")


def inferred(finding: Finding, book: Book) -> tuple[str, ...]:
    """What the program worked out and nobody confirmed; nothing for a confirmed entry."""
    if finding.entry.id in book.confirmed:
        return ()
    return tuple(_inferred(finding, book))


def _inferred(finding: Finding, book: Book) -> Iterator[str]:
    entry = finding.entry
    if entry.doubts:
        yield worded("maybe misheard: {doubts}", doubts="; ".join(entry.doubts))
    if entry.place_assumed:
        yield worded("its place, carried over from what was said before")
    if entry.unplaced or "zone" not in entry.slots:
        yield worded("its place was not said; it is graded for the worst place that it may be")
    if entry.runner_up and (other := _other(entry, book)):
        yield worded("the next best reading: {other}", other=other)
    for question in entry.questions:
        yield worded(
            "not answered: {question}", question=question_in_words(question, book.material.zone_map)
        )
    explanation = book.material.advice.explanations.get(entry.id)
    if explanation and explanation.loss and explanation.loss.nominal_from == "map":
        yield worded("the wall’s thickness when new, by the map")
    if finding.spoken_grade is None:
        yield worded("the grade {worst_said}, by rule alone", worst_said=worst_said(finding))


def _other(entry: Entry, book: Book) -> str:
    """What the next best reading has otherwise."""
    changed = {n: v for n, v in entry.runner_up.items() if entry.slots.get(n) != v}
    told = [
        f"{name.removesuffix('_mm').replace('_', ' ')} {value}".replace("-", " ")
        for name, value in changed.items()
        if name not in _PLACE
    ]
    return ", ".join([*([book.place(entry.runner_up)] if _PLACE & changed.keys() else []), *told])


_PLACE = frozenset(("zone", "side", "face", "ordinal"))


def overruled(finding: Finding) -> str:
    """Rule and inspector side by side; empty where they agree, or the inspector called no grade."""
    said, rule = finding.spoken_grade, finding.computed_grade
    if said is None or rule is None or said == rule:
        return ""
    return worded(
        "the rules give {rule}, the inspector called it {said}; this report counts {worst_said}",
        rule=rule,
        said=said,
        worst_said=worst_said(finding),
    )


def basis_rows(book: Book) -> tuple[Row, ...]:
    """How many findings rest on what, for page one."""
    every = len(book.findings)
    measures = sum(bool(measured(finding, book)) for finding in book.findings)
    judgements = sum(bool(judged(f)) for f in book.findings)
    return (
        Row(
            worded("A person measured"),
            _of(measures, every, worded("a size, a distance or a thickness")),
        ),
        Row(
            worded("A person judged"),
            _of(judgements, every, worded("the probe, a share by eye or a grade")),
        ),
        Row(worded("The program inferred, and nobody confirmed"), _guessed(book)),
    )


def _of(some: int, every: int, what: str) -> str:
    if not every:
        return worded("nothing")
    rest = f": {what}" if some else ""
    return worded(
        "{some} of {counted}{rest}",
        some=some or worded("none"),
        counted=counted(every, "{count} finding", "{count} findings"),
        rest=rest,
    )


def _guessed(book: Book) -> str:
    """The inferences by kind; a grade by rule alone is told last, since most have one."""
    open_still = [f for f in book.findings if f.entry.id not in book.confirmed]
    kinds = {
        worded("may be misheard"): sum(f.entry.doubtful for f in open_still),
        worded("with a place carried over"): sum(f.entry.place_assumed for f in open_still),
        worded("with a place not said"): sum("zone" not in f.entry.slots for f in open_still),
        worded("graded by rule alone"): sum(f.spoken_grade is None for f in open_still),
    }
    told = [f"{number} {kind}" for kind, number in kinds.items() if number]
    return (
        worded(
            "{told}, of {counted}",
            told=", ".join(told),
            counted=counted(len(book.findings), "{count} finding", "{count} findings"),
        )
        if told
        else "nothing"
    )


def overruled_lines(book: Book) -> tuple[str, ...]:
    """Every finding on which rule and inspector disagree, the worst first."""
    return tuple(
        worded(
            "{place} (finding {number}): {told}",
            place=book.place(finding.entry.slots),
            number=number,
            told=told,
        )
        for number, finding in enumerate(book.findings, 1)
        if (told := overruled(finding))
    )
