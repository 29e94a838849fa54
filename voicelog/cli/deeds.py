"""The deeds of ``voicelog amend``: what each option asks of a :class:`~voicelog.runtime.review.Review`."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import dropwhile
from typing import TYPE_CHECKING, Any

from voicelog.domain.entry import Entry, Finding, Kind
from voicelog.errors import UsageFault
from voicelog.runtime.bench_log import Done
from voicelog.runtime.review import Review
from voicelog.tongue import both, worded, worded_many

if TYPE_CHECKING:
    from voicelog.interpret.slot_text import Assigned

RANGE = ".."
"""Between two entries: both, and those that lie between them in the order of the log."""


@dataclass(frozen=True, slots=True)
class Deed:
    """One option of ``voicelog amend``.

    Args:
        option: as it is typed.
        call: does it: the log, the entries named, the option's value, the reason.
        least: how many entries it needs.
        most: how many it takes; None for any number.
        withdrawn: a range means the withdrawn entries in it, not those that hold.
        teaches: a mishearing may explain it.
    """

    option: str
    call: Callable[[Review, Sequence[str], Any, str], Done]
    least: int = 1
    most: int | None = 1
    withdrawn: bool = False
    teaches: bool = False

    def refuse_number(self, entries: Sequence[str]) -> None:
        """Refuse more or fewer entries than it takes.

        Raises:
            UsageFault: saying how many those are.
        """
        if len(entries) < self.least:
            raise UsageFault(
                worded("{option} needs an entry", option=self.option),
                worded("Name it with --entry"),
            )
        if self.most is not None and len(entries) > self.most:
            takes = worded("one entry") if self.most else worded("no entry")
            raise UsageFault(
                worded_many(
                    "{option} takes {takes}, and {count} is named",
                    "{option} takes {takes}, and {count} are named",
                    len(entries),
                    option=self.option,
                    takes=takes,
                )
            )

    def refuse_lesson(self, learn: str | None) -> None:
        """Refuse to learn from what no mishearing can explain.

        Raises:
            UsageFault: something is to be learned from it all the same.
        """
        if learn is not None and not self.teaches:
            able = ", ".join(deed.option for deed in DEEDS.values() if deed.teaches)
            raise UsageFault(
                worded("Nothing can be learned from {option}", option=self.option),
                worded("--learn goes with {able}", able=able),
            )


def assigned(review: Review, texts: Iterable[str]) -> Assigned:
    """What assignments such as ``side=right`` ask for, in the words of the log's own grammar."""
    from voicelog.interpret.slot_text import slot_assignments  # its words start slowly

    grammar = review.grammar
    return slot_assignments(
        texts, grammar.zone_map, grammar.vocabulary, speech=review.settings.speech
    )


def entries_meant(
    texts: Iterable[str], findings: Sequence[Finding], *, withdrawn: bool = False
) -> tuple[str, ...]:
    """The entries named, each once: by id, or as a range in the order of the log.

    Args:
        texts: ``e12.1``, or ``e10.1..e20.2``.
        findings: every entry of the log, in order.
        withdrawn: a range means the withdrawn ones in it; else those that hold, remarks without a
            place left out.

    Raises:
        UsageFault: a range ends nowhere, or holds nothing.
    """
    named = (name for text in texts for name in _named(text, findings, withdrawn))
    return tuple(dict.fromkeys(named))


def _named(text: str, findings: Sequence[Finding], withdrawn: bool) -> Iterator[str]:
    first, dots, last = (part.strip() for part in text.partition(RANGE))
    if not dots:
        yield first
        return
    within = [
        finding.entry.id
        for finding in _between(first, last, findings)
        if finding.withdrawn is withdrawn and not _idle(finding.entry)
    ]
    if not within:
        raise UsageFault(
            worded("The range {text} holds no entry of that kind", text=text),
            worded("Name its entries singly"),
        )
    yield from within


def _between(first: str, last: str, findings: Sequence[Finding]) -> Iterator[Finding]:
    from_first = dropwhile(lambda finding: finding.entry.id != first, findings)
    for finding in (found := list(from_first)):
        yield finding
        if finding.entry.id == last:
            return
    missing = last if found else first
    raise UsageFault(
        worded(
            "The range {first}{dots}{last} has no {missing} at its place",
            first=first,
            dots=RANGE,
            last=last,
            missing=missing,
        ),
        worded("Name two entries in the order of the log"),
    )


def _idle(entry: Entry) -> bool:
    return entry.kind is Kind.REMARK and "zone" not in entry.slots and not entry.unplaced


def _correct(review: Review, entries: Sequence[str], texts: Iterable[str], why: str) -> Done:
    wanted = assigned(review, texts)
    return review.correct(
        entries[0], wanted.set, drop=wanted.drop, kind=wanted.kind, reason=wanted.reason, why=why
    )


def _move(review: Review, entries: Sequence[str], texts: Iterable[str], why: str) -> Done:
    wanted = assigned(review, texts)
    if wanted.drop or wanted.kind is not None or wanted.reason is not None:
        raise UsageFault(
            worded("--move takes the slots of a place"), worded("Use --set for everything else")
        )
    return review.move(entries, wanted.set, why=why)


def _split(review: Review, entries: Sequence[str], words: int, why: str) -> Done:
    return review.split(entries[0], at_word=words or None, why=why)


def _add(review: Review, entries: Sequence[str], said: str, why: str) -> Done:
    return review.add(said, near=entries[0] if entries else None, why=why)


DEEDS: Mapping[str, Deed] = {
    "slots": Deed("--set", _correct, teaches=True),
    "runner_up": Deed(
        "--runner-up", lambda r, e, number, why: r.take(e[0], number - 1, why=why), teaches=True
    ),
    "confirm": Deed("--confirm", lambda r, e, _, why: r.confirm(e[0], why=why), teaches=True),
    "withdraw": Deed("--withdraw", lambda r, e, _, why: r.withdraw(*e, why=why), most=None),
    "restore": Deed(
        "--restore", lambda r, e, _, why: r.restore(*e, why=why), most=None, withdrawn=True
    ),
    "say": Deed("--say", lambda r, e, said, why: r.reread(e[0], said, why=why), teaches=True),
    "split": Deed("--split", _split),
    "merge": Deed("--merge", lambda r, e, other, why: r.merge(e[0], other, why=why)),
    "add": Deed("--add", _add, least=0),
    "move": Deed("--move", _move, most=None, teaches=True),
    "undo": Deed("--undo", lambda r, _e, _v, why: r.undo(why=why), least=0, most=0),
    "redo": Deed("--redo", lambda r, _e, _v, why: r.redo(why=why), least=0, most=0),
}
"""Name of the option's value to the deed."""


def deed_asked(options: Mapping[str, Any]) -> tuple[Deed, Any]:
    """The one deed that the options ask for, and the option's value.

    Raises:
        UsageFault: none is asked for, or more than one.
    """
    asked = [(deed, options[name]) for name, deed in DEEDS.items() if _is_given(options.get(name))]
    if len(asked) == 1:
        return asked[0]
    given = both([deed.option for deed, _ in asked])
    raise UsageFault(
        worded("One change at a time, and {given} are given", given=given)
        if asked
        else worded("Nothing is asked for"),
        worded("Give one of {options}", options=", ".join(deed.option for deed in DEEDS.values())),
    )


def _is_given(value: object) -> bool:
    """False for a flag not set and a list left empty; ``--split`` alone is 0, and given."""
    return value is not None and value is not False and value != ()
