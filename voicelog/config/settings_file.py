"""The settings a person can write down: the shape of ``settings.toml``."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from voicelog.config.document import Sheet
from voicelog.config.shape import OneOf
from voicelog.domain.choices import EARS, PEDALS, SECOND_EARS, THEMES, VOICES
from voicelog.domain.grade import REGIONS
from voicelog.domain.signal import Talk
from voicelog.domain.zone import Rails
from voicelog.tongue import to_word

UNITS_MM = {"millimetre": 1.0, "centimetre": 10.0, "inch": 25.4, "thou": 0.0254}
"""Millimetres in the unit of a number said without one. The inch is exactly 25.4 mm by the
international yard and pound agreement of 1959."""

_Side = Annotated[str, OneOf(("left", "right"), to_word("side"))]


class SettingsFile(Sheet):
    """A layer of settings; what it leaves out stays as the layer below has it."""

    map: str | None = Field(
        default=None, description="zone map: a name, or the path of a file", min_length=1
    )
    rails: Annotated[str, OneOf(tuple(Rails), to_word("kind of rails"))] | None = Field(
        default=None, description="how the rails are made; mixed also stands for not known"
    )
    driver_side: _Side | None = Field(
        default=None, description="where the driver sits; without it driver's side is asked about"
    )
    nearside: _Side | None = Field(default=None, description="the side next to the kerb")
    mil: Annotated[str, OneOf(("millimetre", "thou"), to_word("meaning of mil"))] | None = Field(
        default=None, description='what "mil" stands for'
    )
    unit: Annotated[str, OneOf(tuple(UNITS_MM), to_word("unit of length"))] | None = Field(
        default=None, description="unit of a number said without one"
    )
    carry_s: float | None = Field(
        default=None,
        description="seconds after which a carried place is only assumed",
        ge=0,
        le=3600,
    )
    accept: float | None = Field(
        default=None, description="lowest score of a phrase that is not doubtful", ge=0, le=1
    )
    margin: float | None = Field(
        default=None,
        description="smallest lead in belief over a contradicting reading that is not doubtful, 0 to 1",
        ge=0,
        le=1,
    )
    ear: Annotated[str, OneOf(EARS, to_word("recogniser"))] | None = Field(
        default=None, description="the recogniser"
    )
    second_ear: Annotated[str, OneOf(SECOND_EARS, to_word("use of a second recogniser"))] | None = (
        Field(
            default=None,
            description="whether a second recogniser, where it is installed, hears what the first one was "
            "not sure of",
        )
    )
    model: str | None = Field(default=None, description="folder of a Vosk model", min_length=1)
    bias: float | None = Field(
        default=None,
        description="how strongly the built-in ear leans to the phrases, in nats a character",
        ge=0,
        le=2,
    )
    beam: int | None = Field(
        default=None, description="hypotheses the built-in ear keeps", ge=1, le=32
    )
    adapted: bool | None = Field(
        default=None,
        description="whether the built-in ear hears with its corrections for shop noise, or as its model was published",
    )
    silence_s: float | None = Field(
        default=None, description="seconds of silence that end an utterance", ge=0.1, le=10
    )
    preroll_s: float | None = Field(
        default=None, description="seconds kept from before speech was noticed", ge=0, le=5
    )
    longest_s: float | None = Field(
        default=None, description="seconds at which an utterance is cut", ge=1, le=30
    )
    into: str | None = Field(
        default=None, description="folder in which the logs are made", min_length=1
    )
    attention: str | None = Field(
        default=None,
        description='the word before "go ahead" that ends stand-by, instead of the grammar\'s own',
        min_length=1,
    )
    grammar: str | None = Field(
        default=None,
        description="the name of a shipped language (`de`), or a grammar folder of your own; the "
        "words, maps or rules it has none of are the shipped ones",
        min_length=1,
    )
    overlays: list[Annotated[str, Field(min_length=1)]] | None = Field(
        default=None, description="the shop's own grammar files, later ones on top"
    )
    learned: str | None = Field(
        default=None,
        description="folder of what was learned from corrections, for example one that the shop's "
        "machines share; unless given, that of this file",
        min_length=1,
    )
    inspector: str | None = Field(
        default=None,
        description="the name of the person who corrects and signs; unless given, the user's name on "
        "this machine",
        min_length=1,
    )
    microphone: str | None = Field(
        default=None,
        description="the input device: its number, or a part of its name (voicelog doctor lists them)",
        min_length=1,
    )
    speaker: str | None = Field(
        default=None, description="the output device, in the same way", min_length=1
    )
    voice: Annotated[str, OneOf(VOICES, to_word("voice"))] | None = Field(
        default=None, description="what reads back"
    )
    talk: Annotated[str, OneOf(tuple(Talk), to_word("amount of talk"))] | None = Field(
        default=None, description="how much is said aloud; tones sound at every level"
    )
    push_to_talk: Annotated[str, OneOf(PEDALS, to_word("way to push to talk"))] | None = Field(
        default=None, description="hands-free, or a key to hold or to toggle"
    )
    pedal: str | None = Field(
        default=None,
        description="the key that a pedal or remote sends, by its name in the terminal",
        min_length=1,
    )
    ask_s: float | None = Field(
        default=None, description="seconds in which a question can be answered", ge=2, le=60
    )
    theme: Annotated[str, OneOf(THEMES, to_word("theme"))] | None = Field(
        default=None, description="colours of the screen"
    )
    regions: list[Annotated[str, OneOf(tuple(REGIONS), to_word("region"))]] | None = Field(
        default=None,
        description="regions whose public rules `voicelog why` and the report point at; as a variable "
        "with commas between them (`VOICELOG_REGIONS=uk,nz`)",
    )
