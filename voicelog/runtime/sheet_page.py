"""What stands on the printed sheet beside its sentences: consent, how to record, what to fill in."""

from __future__ import annotations

from voicelog.domain.sheet_page import SheetPage, SheetRow
from voicelog.yardstick.sheet import Item, Sheet

CONSENT = (
    "I read these sentences aloud and am recorded. Nobody else is heard on the recordings.",
    "They are used to measure how well a program understands what is said in a workshop, and to find out "
    "what it gets wrong.",
    "My name is not written down. A code stands for me. Even so, a voice can be recognised by people who "
    "know it.",
    "I may stop at any time, without a reason. Until the recordings are handed on I may withdraw: then the "
    "folder with my code is deleted, wherever it was copied to.",
    "What was handed on under a licence cannot be called back.",
)
"""What a speaker agrees to."""

CHOICES = (
    "They stay with whoever records me. Only figures are handed on. (licence: none)",
    "They may be handed on and changed by anybody who names the source: CC BY 4.0.",
    "They may be handed on and changed by anybody, without any condition: CC0 1.0.",
)

BLANKS = (
    "Code (s01, s02 … never a name)", "First language, accent (my own words)", "Microphone",
    "Distance from the mouth", "Noises, with dB(A) if measured", "Date, signature or initials",
)  # fmt: skip

STEPS = (
    "Use the microphone that you would work with, where you would wear it. Switch noise suppression off.",
    "One file for each sentence, called by its number: 07.wav. WAV or FLAC, 16,000 samples a second or more.",
    "Begin and end with a second of silence. Where the sheet says pause, be silent for two seconds.",
    "Read first, then speak: the words as they stand, the way you would say them at work.",
    "The first take counts. Only if you misread or were interrupted, record it again and delete the other.",
    "What a radio plays belongs to others: such recordings are never handed on, only their figures.",
    "Put the files into a folder for the noise, within a folder for the speaker: s01/quiet/07.wav.",
)

NOISES = ("quiet", "compressor or fan", "radio")

FOOT = (
    "How this sheet was made: each sentence was put together from parts (a place, a fault, a test, a size) "
    "out of the words and the map in force, and what must come of it was written down from those parts, "
    "in sheet.json. The program that is measured has read none of them. Read sentences are easier to "
    "understand than free speech, so the figures flatter. Nothing is uploaded: voicelog measure works on this "
    "machine, and you send its figures, or do not."
)


def sheet_page(sheet: Sheet) -> SheetPage:
    """The page of a sheet."""
    return SheetPage(
        f"Sentences to record: {sheet.map.replace('-', ' ')}",
        f"{len(sheet.items)} sentences, drawn with seed {sheet.seed} by {sheet.program}. Some are ordinary "
        "talk, which must make no entry. voicelog help recording tells more.",
        CONSENT, CHOICES, BLANKS, STEPS, NOISES, tuple(map(_row, sheet.items)), FOOT,
    )  # fmt: skip


def _row(item: Item) -> SheetRow:
    return SheetRow(item.id, tuple(f"{say[:1].upper()}{say[1:]}." for say in item.say))
