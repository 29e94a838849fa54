"""Going on with an inspection that was stopped, by a person or by a crash."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from pathlib import Path
from typing import Any

from voicelog.config.cache import checked_folder
from voicelog.config.grammar import Grammar, load_grammar
from voicelog.config.settings import Settings
from voicelog.domain.fact import OF_THE_BENCH, Fact
from voicelog.domain.reading import Speech
from voicelog.domain.zone import Rails
from voicelog.errors import InputFault, LogFault
from voicelog.journal.grammar import kept_grammar, map_of
from voicelog.journal.naming import JOURNAL
from voicelog.runtime.checked_log import checked_log
from voicelog.tongue import worded

LAST = "last"
"""Stands for the newest log: to go on with, the newest that is open."""

_ENDS = ("finished",)
"""Reasons of a ``closed`` fact after which nothing may be said."""


@dataclass(frozen=True, slots=True)
class Earlier:
    """A log to go on with.

    Args:
        folder: where it lies.
        facts: what it holds, in order.
        grammar: its own copy of words, map and rules: they do not change half-way.
        settings: those in force now, with what the log says of the vehicle and the speaker.
        subject: what is inspected.
    """

    folder: Path
    facts: tuple[Fact, ...]
    grammar: Grammar
    settings: Settings
    subject: str


def earlier_log(folder: Path, settings: Settings) -> Earlier:
    """A log made ready to be gone on with.

    Raises:
        InputFault: there is none, or it was finished.
        LogFault: it is damaged or newer.
    """
    facts = facts_so_far(folder)
    opened = facts[0].body
    own, then = kept_grammar(folder, facts[0]), as_then(settings, opened)
    name, subject = map_of(opened), str(opened.get("subject", ""))
    if then.attention == Settings.attention:
        return Earlier(folder, facts, checked_folder(name, own), then, subject)
    from voicelog.config.loading import called_by  # pydantic starts slowly

    grammar = called_by(load_grammar(name, folder=own), then.attention)
    return Earlier(folder, facts, grammar, then, subject)


def facts_so_far(folder: Path) -> tuple[Fact, ...]:
    """What a log holds that more may be added to.

    Raises:
        InputFault: there is none, or it was finished.
        LogFault: it is damaged or newer.
    """
    facts = checked_log(folder).facts
    if any(fact.type == "closed" and fact.body.get("reason") in _ENDS for fact in facts):
        raise InputFault(
            worded("The inspection in {folder} was finished", folder=repr(str(folder))),
            worded("Start a new one for what came after"),
        )
    return facts


def newest_open(parent: Path) -> Path:
    """The newest log in a folder that was not finished.

    Raises:
        InputFault: there is none.
    """
    for folder in _newest_first(parent):
        if _is_open(folder):
            return folder
    raise InputFault(
        worded("There is no inspection to go on with in {parent}", parent=repr(str(parent))),
        worded("Name its folder, or start a new one: voicelog start"),
    )


def log_meant(log: str, parent: Path) -> Path:
    """The folder of the log that somebody named, or the newest in a folder for :data:`LAST`.

    Raises:
        InputFault: there is none in it.
    """
    return newest_log(parent) if log == LAST and not Path(log).exists() else Path(log)


def newest_log(parent: Path) -> Path:
    """The newest log in a folder, whether it was finished or not.

    Raises:
        InputFault: there is none.
    """
    newest = next(iter(_newest_first(parent)), None)
    if newest is None:
        raise InputFault(
            worded("There is no log in {parent}", parent=repr(str(parent))),
            worded("Name the log's folder, or with --into the one it lies in"),
        )
    return newest


def _newest_first(parent: Path) -> list[Path]:
    return sorted((path.parent for path in parent.glob(f"*/{JOURNAL}")), reverse=True)


def _is_open(folder: Path) -> bool:
    """Neither closed for whatever reason, nor damaged: naming such a log tells what is wrong."""
    try:
        facts = checked_log(folder).facts
    except (InputFault, LogFault):
        return False
    spoken = [fact.type for fact in facts if fact.type not in OF_THE_BENCH]
    return spoken[-1] != "closed"


def as_then(settings: Settings, opened: Mapping[str, Any]) -> Settings:
    """The settings with the log's own map, rails and way to take the speaker's words.

    Args:
        settings: in force now.
        opened: the body of the fact that opened the log.

    Raises:
        LogFault: it holds a value that cannot be.
    """
    kept = opened.get("settings", {})
    if not isinstance(kept, Mapping):
        raise _odd("settings")
    return replace(
        settings,
        map=str(opened.get("map", settings.map)),
        rails=rails_then(opened),
        speech=_speech_then(kept),
        attention=str(kept.get("attention", settings.attention)),
    )


def rails_then(opened: Mapping[str, Any]) -> Rails:
    """How the vehicle's rails are made, by the fact that opened the log.

    Raises:
        LogFault: it says what no rails are.
    """
    try:
        return Rails(opened.get("rails", Rails.MIXED))
    except ValueError:
        raise _odd("rails") from None


def _speech_then(kept: Mapping[str, Any]) -> Speech:
    known = {field.name: kept[field.name] for field in fields(Speech) if field.name in kept}
    for name, value in known.items():
        numeric = isinstance(getattr(Speech(), name), float)
        if not isinstance(value, int | float if numeric else str | None):
            raise _odd(name)
    return Speech(**known)


def _odd(name: str) -> LogFault:
    return LogFault(
        worded("Line 1 of the log gives a value to {name} that it cannot have", name=repr(name)),
        worded("Run voicelog verify on the log's folder."),
    )
