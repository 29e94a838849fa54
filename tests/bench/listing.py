"""What the one who tunes wants to see: shares by topic, and every case that went wrong."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from corpus import Hearing, load
from shares import grid
from systems import OWN, Job, Outcome, outcomes

from voicelog.yardstick.shares import share_text
from voicelog.yardstick.strict import Answer, Got, Judged, Slots, Tally, asked, fits, tally, told


def own(found: Mapping[Job, Sequence[Judged]]) -> str:
    """One line for each job; of the tuning part also the exact share of each topic and rate."""
    head = ["source", "rate", "exact", "slot precision", "slot recall", "wrong marked",
            "right marked", "missing"]  # fmt: skip
    rows = [_row(job.source, job, judged) for job, judged in found.items()]
    shown = {job: judged for job, judged in found.items() if not job.source.startswith("untouched")}
    return "\n\n".join([grid([head, *rows]), *([_by_topic(shown)] if shown else [])])


def _by_topic(found: Mapping[Job, Sequence[Judged]]) -> str:
    exact: dict[tuple[str, float], list[bool]] = {}
    for job, judged in found.items():
        for case, one in zip(load(job.source), judged, strict=True):
            exact.setdefault((case.topic, job.hearing.rate), []).append(one.exact)
    rates = sorted({rate for _, rate in exact})
    rows = [
        [topic, *(share_text(sum(of := exact[topic, rate]), len(of)) for rate in rates)]
        for topic in sorted({topic for topic, _ in exact})
    ]
    return grid([["exact by topic", *(f"at {rate:g}" for rate in rates)], *rows])


def _row(name: str, job: Job, judged: Sequence[Judged]) -> list[str]:
    total = sum(map(tally, judged), Tally())
    return [
        name, f"{job.hearing.rate:g}", share_text(total.exact, total.cases),
        share_text(total.slots_right, total.slots_got), share_text(total.slots_right, total.slots_wanted),
        share_text(total.wrong_marked, total.wrong), share_text(total.right_marked, total.right),
        str(total.missing),
    ]  # fmt: skip


def wrong(sources: Sequence[str], hearing: Hearing, topic: str | None) -> str:
    """Every wrong case: what was said, heard, wanted and made; then right entries in doubt."""
    faults: list[str] = []
    doubted: list[str] = []
    for source in sources:
        for outcome in outcomes(Job(OWN, source, hearing)):
            case, *_, judged = outcome
            if topic in (None, case.topic) and not judged.exact:
                faults.append(_fault(outcome))
            if topic in (None, case.topic):
                doubted += _doubted(outcome)
    return "\n".join([f"Wrong: {len(faults)}", *faults, f"Right, yet doubtful: {len(doubted)}",
                      *doubted, ""])  # fmt: skip


def _fault(outcome: Outcome) -> str:
    case, said, answer, judged = outcome
    lines = [f"{case.id} {case.topic}", *(f"    said   {text}" for text in case.say)]
    if tuple(utterance.text for utterance in said) != case.say:
        lines += [f"    heard  {h.text}" for utterance in said for h in utterance.heard[:1]]
    lines += [_pair(want, got) for want, got in judged.pairs]
    return "\n".join([*lines, *_tags(case.tags, answer)])


def _pair(want: Slots | None, got: Got | None) -> str:
    """What differs between the two; the whole entry where one has no counterpart."""
    if want is None or got is None:
        name = "extra " if want is None else "missing"
        whole = asked(got.slots if got is not None else want or {})
        return f"    {name} {_slots(whole)}{_mark(got)}"
    if fits(want, got):
        return f"    right  {_slots(asked(want))}{_mark(got)}"
    wanted, made = asked(want), told(got.slots, want)
    return f"    wanted {_slots(wanted)}\n    made   {_slots(made)}{_mark(got)}"


def _slots(slots: Slots) -> str:
    return ", ".join(f"{name} {value}" for name, value in slots.items())


def _mark(got: Got | None) -> str:
    if got is None:
        return ""
    return f"  [{'; '.join(got.doubts)}]" if got.doubts else "  [no doubt]"


def _tags(tags: Sequence[str], answer: Answer) -> list[str]:
    return [f"    no remark is tagged {tag}" for tag in tags if tag not in answer.tags]


def _doubted(outcome: Outcome) -> Iterator[str]:
    case, said, _, judged = outcome
    for want, got in judged.pairs:
        if got is not None and got.doubts and fits(want, got):
            heard = " | ".join(utterance.text for utterance in said)
            yield f"{case.id} {heard}\n    {_slots(asked(got.slots))}{_mark(got)}"
