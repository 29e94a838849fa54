"""What findings rest on: what a person measured, what they judged, what only the program inferred."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from voicelog.domain.advice import WallLoss
from voicelog.domain.entry import Entry, Finding
from voicelog.domain.report import Row
from voicelog.findings.grading import worst_said
from voicelog.findings.thickness import loss_in_words
from voicelog.findings.wording import question_in_words
from voicelog.report.material import Book
from voicelog.report.plainly import rounded, told_mm
from voicelog.report.wording import counted, grouped

_MEASURES: Mapping[str, str] = {
    "count": "{} of them", "size_mm": "{} mm across", "width_mm": "{} mm wide",
    "depth_mm": "{} mm deep", "thickness_mm": "wall {} mm thick",
    "nominal_mm": "wall {} mm when new, as it was told", "loss_percent": "{} % of the wall gone",
    "mount_distance_mm": "{} mm from a mounting",
}  # fmt: skip
_PROBES: Mapping[str, str] = {
    "firm": "firm under the probe", "dull": "it sounded dull", "dents": "it took a dent",
    "moves": "it moved under the probe", "soft": "soft under the probe",
    "through": "the probe went through",
}  # fmt: skip
_METHODS: Mapping[str, str] = {
    "seen": "looked at", "tapped": "tapped", "scraped": "scraped", "probed": "probed",
    "scoped": "looked into with a camera", "gauged": "measured with a gauge",
}  # fmt: skip


def measured(finding: Finding, book: Book) -> tuple[str, ...]:
    """What somebody measured or counted, as phrases; a wall loss with its uncertainty."""
    entry, why = rounded(finding.entry), book.material.advice.explanations.get(finding.entry.id)
    loss = why.loss if why else None
    whole = loss is not None and loss.measured_mm is not None and loss.nominal_mm is not None
    told = [
        shape.format(_number(entry, slot))
        for slot, shape in _MEASURES.items()
        if slot in entry.slots and not (whole and slot == "loss_percent")
    ]
    if loss is None or not whole:
        return tuple(told)
    return (*told, loss_in_words(_as_told(loss), book.material.rules.limits).rstrip("."))


def _as_told(loss: WallLoss) -> WallLoss:
    """The loss with its thicknesses as they are told above it."""
    read, new = loss.measured_mm or 0.0, loss.nominal_mm or 0.0
    thick = "thickness_mm"
    return replace(loss, measured_mm=told_mm(read, thick), nominal_mm=told_mm(new, thick))


def _number(entry: Entry, slot: str) -> str:
    """The slot's number, or both ends of the range it was said as; what is no number, as it is."""
    value = entry.slots[slot]
    if isinstance(value, str):
        return value
    return " to ".join(grouped(end) for end in entry.ranges.get(slot) or (value,))


def judged(finding: Finding) -> tuple[str, ...]:
    """What the inspector judged: what the probe did, how it was looked at, shares told by eye."""
    return tuple(_judged(finding.entry, finding))


def _judged(entry: Entry, finding: Finding) -> Iterator[str]:
    slots = entry.slots
    if "probe" in slots:
        yield _PROBES.get(str(slots["probe"]), f"probe {slots['probe']}")
    if "method" in slots:
        yield _METHODS.get(str(slots["method"]), str(slots["method"]))
    if "surround" in slots:
        yield f"{'solid' if slots['surround'] == 'firm' else 'no solid'} metal around it"
    if "area_percent" in slots:
        yield f"{_number(entry, 'area_percent')} % of the surface, told by eye"
    if finding.spoken_grade is not None:
        yield f"called it {finding.spoken_grade}"
    if slots.get("certainty") == "tentative":
        yield "was not sure"


def inferred(finding: Finding, book: Book) -> tuple[str, ...]:
    """What the program worked out and nobody confirmed; nothing for a confirmed entry."""
    if finding.entry.id in book.confirmed:
        return ()
    return tuple(_inferred(finding, book))


def _inferred(finding: Finding, book: Book) -> Iterator[str]:
    entry = finding.entry
    if entry.doubts:
        yield f"maybe misheard: {'; '.join(entry.doubts)}"
    if entry.place_assumed:
        yield "its place, carried over from what was said before"
    if entry.unplaced or "zone" not in entry.slots:
        yield "its place was not said; it is graded for the worst place that it may be"
    if entry.runner_up and (other := _other(entry, book)):
        yield f"the next best reading: {other}"
    for question in entry.questions:
        yield f"not answered: {question_in_words(question, book.material.zone_map)}"
    explanation = book.material.advice.explanations.get(entry.id)
    if explanation and explanation.loss and explanation.loss.nominal_from == "map":
        yield "the wall’s thickness when new, by the map"
    if finding.spoken_grade is None:
        yield f"the grade {worst_said(finding)}, by rule alone"


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
    return f"the rules give {rule}, the inspector called it {said}; this report counts {worst_said(finding)}"


def basis_rows(book: Book) -> tuple[Row, ...]:
    """How many findings rest on what, for page one."""
    every = len(book.findings)
    measures = sum(bool(measured(finding, book)) for finding in book.findings)
    judgements = sum(bool(judged(f)) for f in book.findings)
    return (
        Row("A person measured", _of(measures, every, "a size, a distance or a thickness")),
        Row("A person judged", _of(judgements, every, "the probe, a share by eye or a grade")),
        Row("The program inferred, and nobody confirmed", _guessed(book)),
    )


def _of(some: int, every: int, what: str) -> str:
    if not every:
        return "nothing"
    rest = f": {what}" if some else ""
    return f"{some or 'none'} of {counted(every, 'finding')}{rest}"


def _guessed(book: Book) -> str:
    """The inferences by kind; a grade by rule alone is told last, since most have one."""
    open_still = [f for f in book.findings if f.entry.id not in book.confirmed]
    kinds = {
        "may be misheard": sum(f.entry.doubtful for f in open_still),
        "with a place carried over": sum(f.entry.place_assumed for f in open_still),
        "with a place not said": sum("zone" not in f.entry.slots for f in open_still),
        "graded by rule alone": sum(f.spoken_grade is None for f in open_still),
    }
    told = [f"{number} {kind}" for kind, number in kinds.items() if number]
    return f"{', '.join(told)}, of {counted(len(book.findings), 'finding')}" if told else "nothing"


def overruled_lines(book: Book) -> tuple[str, ...]:
    """Every finding on which rule and inspector disagree, the worst first."""
    return tuple(
        f"{book.place(finding.entry.slots)} (finding {number}): {told}"
        for number, finding in enumerate(book.findings, 1)
        if (told := overruled(finding))
    )
