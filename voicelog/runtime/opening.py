"""Opening a session: grammar, ear and log made ready from the settings."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any

from voicelog import __version__
from voicelog.config.cache import checked_grammar
from voicelog.config.grammar import Grammar
from voicelog.config.learned_text import without_notes
from voicelog.config.settings import Settings
from voicelog.domain.vehicle import VEHICLE
from voicelog.errors import InputFault
from voicelog.recognise.port import Ear
from voicelog.runtime.session import Session
from voicelog.tongue import worded

if TYPE_CHECKING:
    from voicelog.journal.journal import Journal
    from voicelog.recognise.ear_process import EarProcess
    from voicelog.runtime.going_on import Earlier

NOTHING: Mapping[str, Any] = {}
"""Nothing is known of the vehicle."""


def open_listening(
    settings: Settings,
    *,
    subject: str = "",
    recorded_at: datetime | None = None,
    vehicle: Mapping[str, Any] = NOTHING,
    told: Callable[[str], None] = lambda _text: None,
) -> Session:
    """A session that hears sound and keeps a log.

    Args:
        settings: in force.
        subject: what is inspected; becomes part of the log's name.
        recorded_at: wall-clock time at which the recording begins; None means now.
        vehicle: what is known of it, as a ``vehicle`` line sets it.
        told: called with a sentence once the second ear is gone.
    """
    grammar = checked_grammar(settings)
    ear = open_the_ear(settings, grammar)
    second = second_ear(settings, grammar)
    journal = _journal(settings, grammar, subject, ear, vehicle)
    begun = recorded_at or datetime.now(UTC)
    return Session(
        settings, grammar, journal=journal, ear=ear, second=second, told=told,
        now=lambda at_s: (begun + timedelta(seconds=at_s)).astimezone(UTC),
    )  # fmt: skip


def open_reading(
    settings: Settings, *, keep: bool, subject: str = "", vehicle: Mapping[str, Any] = NOTHING
) -> Session:
    """A session that reads text; it keeps a log only when asked to."""
    grammar = checked_grammar(settings)
    journal = _journal(settings, grammar, subject, None, vehicle) if keep else None
    return Session(settings, grammar, journal=journal)


def open_live(
    settings: Settings, ear: Ear, *, subject: str = "", vehicle: Mapping[str, Any] = NOTHING
) -> Session:
    """A new session that hears a person who can answer.

    Args:
        settings: in force.
        ear: open already; the session closes it.
        subject: what is inspected; becomes part of the log's name.
        vehicle: what is known of it, as a ``vehicle`` line sets it.
    """
    grammar = checked_grammar(settings)
    journal = _journal(settings, grammar, subject, ear, vehicle)
    return Session(
        settings, grammar, journal=journal, ear=ear, ask_s=settings.ask_s, now=_wall_clock(journal)
    )


def open_again(earlier: Earlier, ear: Ear, *, vehicle: Mapping[str, Any] = NOTHING) -> Session:
    """A session that goes on with a log, as it is once nobody else writes it.

    Args:
        earlier: the log.
        ear: open already; the session closes it.
        vehicle: what is told of it now, as a ``vehicle`` line sets it.

    Raises:
        InputFault: it was finished meanwhile.
        LockedFault: somebody else is writing it.
        StorageFault: the disk refuses.
    """
    from voicelog.journal.journal import Journal
    from voicelog.runtime.checked_before import checked_before
    from voicelog.runtime.going_on import facts_so_far

    journal = Journal.reopen(earlier.folder, checked_before(earlier.folder))
    try:
        if len(earlier.facts) != journal.next_seq - 1:  # it was written between reading and locking
            earlier = replace(earlier, facts=facts_so_far(earlier.folder))
        session = _gone_on(earlier, ear, journal)
        if vehicle:
            session.note(VEHICLE, {"set": dict(vehicle), "by": earlier.settings.inspector})
        return session
    except BaseException:
        journal.close()
        raise


def _gone_on(earlier: Earlier, ear: Ear, journal: Journal) -> Session:
    session = Session(
        earlier.settings, earlier.grammar, journal=journal, ear=ear, ask_s=earlier.settings.ask_s,
        now=_wall_clock(journal),
    )  # fmt: skip
    session.understanding.resume(earlier.facts)
    session.note(
        "resumed", {"ear": ear.engine, "model": ear.model, "program": f"voicelog {__version__}"}
    )
    return session


def _wall_clock(journal: Journal) -> Callable[[float], datetime]:
    """The wall clock at a moment just past: now, less what has gone by since.

    Counted from the beginning it would be wrong after the machine had slept, for the clock that
    never goes back stands still meanwhile.
    """
    return lambda at_s: datetime.now(UTC) - timedelta(seconds=max(0.0, journal.offset_s - at_s))


def open_the_ear(settings: Settings, grammar: Grammar, instead: Sequence[str] = ()) -> Ear:
    """The ear that the settings ask for, leaning towards the grammar's phrases.

    Args:
        settings: in force.
        grammar: in force.
        instead: the phrases to lean towards in their place.

    Raises:
        EarFault: it cannot be used here.
    """
    from voicelog.recognise.lookup import open_ear  # not needed to read text

    return open_ear(
        settings.ear, phrases=instead or grammar.vocabulary.telling(), model=settings.model,
        bias=settings.bias, beam=settings.beam, adapted=settings.adapted,
        classes=grammar.vocabulary.classes(),
    )  # fmt: skip


def second_ear(settings: Settings, grammar: Grammar, *, behind: bool = False) -> EarProcess | None:
    """The second ear beside the one that hears; None where none is wanted, or there is none.

    It hears English: where a grammar of another language may be in force, it is left out.

    Args:
        settings: in force.
        grammar: in force.
        behind: whatever else the machine does comes first.
    """
    if settings.second_ear == "off" or settings.ear == "second" or settings.grammar is not None:
        return None
    from voicelog.recognise.ear_process import EarProcess
    from voicelog.recognise.lookup import has_second_ear

    if not has_second_ear():
        return None
    return EarProcess(grammar.vocabulary.telling(), behind=behind)


def _journal(
    settings: Settings,
    grammar: Grammar,
    subject: str,
    ear: Ear | None,
    vehicle: Mapping[str, Any],
) -> Journal:
    from voicelog.journal.journal import Journal  # not needed to read text without keeping it

    opened: dict[str, Any] = {
        "map": grammar.zone_map.id,
        "rails": str(settings.rails),
        "ear": ear.engine if ear is not None else "typed",
        "model": ear.model if ear is not None else "",
        "settings": {
            **{k: v for k, v in asdict(settings.speech).items() if v is not None},
            "attention": settings.attention,
            "bias": settings.bias, "beam": settings.beam, "adapted": settings.adapted,
            "silence_s": settings.silence_s,
        },
    }  # fmt: skip
    if settings.inspector:
        vehicle = {"inspector": settings.inspector, **vehicle}
    if vehicle:
        opened[VEHICLE] = dict(vehicle)
    copied = {name: without_notes(raw) for name, raw in grammar.files.items()}
    return Journal.create(settings.into, subject=subject, opened=opened, grammar=copied)


def parse_moment(text: str) -> datetime:
    """A wall-clock time such as ``2026-03-14T09:05:30+01:00``; local time without an offset.

    Raises:
        InputFault: it is no such time.
    """
    try:
        return datetime.fromisoformat(text).astimezone()
    except ValueError:
        raise InputFault(
            worded("{text} is not a date and time", text=repr(text)),
            worded("Write it like 2026-03-14T09:05:30+01:00"),
        ) from None


def readable(paths: tuple[Path, ...]) -> None:
    """Refuse what is no recording before anything is started, and before a log is made.

    Raises:
        InputFault: one is not there, is a folder, or holds no sound that can be read.
    """
    for path in paths:
        if str(path) == "-":
            continue
        if not path.exists():
            raise InputFault(
                worded("There is no file {path}", path=repr(str(path))), worded("Check the path")
            )
        if path.is_dir():
            raise InputFault(
                worded("{path} is a folder", path=repr(str(path))),
                worded("Name the recordings in it"),
            )
        if path.is_file():  # a pipe can be read once only
            _try(path)


def _try(path: Path) -> None:
    """Read the beginning of a recording."""
    from voicelog.capture.decode import decode

    next(decode(str(path), str(path)), None)
