"""voicelog's own column: reader, dialogue and ledger, put together as a session does it."""

from __future__ import annotations

import tempfile
from collections.abc import Mapping, Sequence
from functools import cache
from pathlib import Path

from corpus import Said

from voicelog.config.grammar import Grammar, load_grammar
from voicelog.config.settings import Settings, load_settings
from voicelog.dialogue.dialogue import Dialogue
from voicelog.domain.reading import Speech
from voicelog.findings.ledger import Ledger
from voicelog.interpret.reader import Reader
from voicelog.yardstick.strict import Answer, answer_of

_AT = "2026-01-01T00:00:00Z"


def understand(said: Sequence[Said], flags: Mapping[str, str]) -> Answer:
    """One inspection without a log, from what was heard to the entries that stand at the end."""
    settings, zone_map = settings_of(tuple(sorted(flags.items()))), shipped().zone_map
    reader = reader_of(settings)
    dialogue = Dialogue(zone_map, rails=settings.rails, speech=settings.speech)
    ledger = Ledger(zone_map, shipped().rules, settings.rails)
    for number, utterance in enumerate(said, start=1):
        reading = reader.read(*utterance.heard)
        turn = dialogue.take(reading, utterance=f"u{number}", at=_AT, at_s=utterance.at_s)
        ledger.take(turn.changes)
    return answer_of(ledger.inspection())


@cache
def shipped() -> Grammar:
    """The shipped grammar."""
    return load_grammar()


@cache
def settings_of(flags: tuple[tuple[str, str], ...]) -> Settings:
    """Shipped settings with these flags, whatever the user's own file says."""
    with tempfile.TemporaryDirectory() as folder:
        no_settings = Path(folder) / "settings.toml"
        no_settings.touch()
        return load_settings(dict(flags), user_file=no_settings, environ={})


@cache
def _reader(speech: Speech) -> Reader:
    return Reader(shipped().vocabulary, shipped().zone_map, speech=speech)


def reader_of(settings: Settings) -> Reader:
    """The reader for these settings, made once."""
    return _reader(settings.speech)
