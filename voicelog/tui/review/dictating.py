"""A sentence typed or spoken at the bench, and how it would be read."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.domain.heard import Heard
from voicelog.domain.sound import Clip
from voicelog.errors import VoicelogError
from voicelog.tongue import worded
from voicelog.tui.review.bench import Bench
from voicelog.tui.review.sentence_dialog import SentenceDialog
from voicelog.tui.review.waiting_dialog import Stopped, Tell, wait_for

Spoken = tuple[Heard, Clip]
Dictate = Callable[[Callable[[], None], Stopped], Spoken]
"""Listens to one utterance: told when to say that one may speak, and asks whether to stop."""


def through_microphone(
    settings: Settings, grammar: Grammar, listening: Callable[[], None], stopped: Stopped
) -> Spoken:
    """One sentence through the microphone that the settings name."""
    from voicelog.runtime.dictation import dictate, open_microphone  # few ever speak here

    return dictate(
        settings, grammar, lambda: open_microphone(settings), listening=listening, stopped=stopped
    )


async def sentence(
    bench: Bench,
    dictate: Dictate,
    title: str,
    heard: str,
    preview: Callable[[str], Sequence[str]],
) -> tuple[str | Heard, Clip | None] | None:
    """Words typed or spoken, with their sound; None where it was left.

    Where nothing could be heard, what was typed before still stands there.

    Args:
        bench: where.
        dictate: listens to one sentence.
        title: of the dialog.
        heard: the words so far; may be empty.
        preview: how a sentence would be read, in lines.
    """
    bench.refuse_if_read_only()
    text, trouble = heard, ""
    while True:
        said = await bench.ask(
            SentenceDialog(title, heard, text=text, trouble=trouble, preview=preview)
        )
        if said is None or not said.dictate:
            return None if said is None else (said.text, None)
        text, trouble = said.text, ""
        try:
            spoken = await _speak(bench, dictate)
        except VoicelogError as fault:
            trouble = str(fault)
        else:
            if spoken is not None:
                return spoken


async def _speak(bench: Bench, dictate: Dictate) -> Spoken | None:
    def work(tell: Tell, stopped: Stopped) -> Spoken:
        return dictate(lambda: tell(worded("Speak now: one sentence, then a pause")), stopped)

    first = worded("The recogniser is being made ready …")
    return await wait_for(bench, worded("SPEAK THE SENTENCE"), first, work)
