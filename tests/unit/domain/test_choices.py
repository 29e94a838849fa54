"""What a setting may name is listed once, and whoever keeps a table of its own leaves nothing out."""

from __future__ import annotations

from voicelog.cli.versions import RUN_BY
from voicelog.config.settings import Settings
from voicelog.domain.choices import EARS, HEARING, PEDALS, SECOND_EARS, THEMES, VOICES
from voicelog.recognise.lookup import ears


def test_the_first_of_each_list_holds_while_nobody_chose() -> None:
    """So that a list and the default beside it cannot part."""
    settings = Settings()
    chosen = (settings.ear, settings.second_ear, settings.voice, settings.push_to_talk)
    assert chosen == (EARS[0], SECOND_EARS[0], VOICES[0], PEDALS[0])
    assert settings.theme == THEMES[0]


def test_doctor_tells_of_every_ear() -> None:
    """Ready or not."""
    assert {status.name for status in ears()} == set(EARS[1:])


def test_version_names_what_runs_every_ear_that_takes_sound() -> None:
    """By the package, so that a report of a fault says which library heard."""
    assert set(RUN_BY) == set(HEARING[1:])
