"""One short inspection, judged by what stands at its end: what the yardstick's systems do alike."""

from __future__ import annotations

from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.domain.heard import Heard
from voicelog.interpret.reader import Reader
from voicelog.runtime.understanding import Second, Understanding, Understood
from voicelog.yardstick.strict import Answer, answer_of

_AT = "2026-01-01T00:00:00Z"


class Inspected:
    """Utterances of an inspection without a log.

    Args:
        settings: in force.
        grammar: in force.
        reader: of that grammar and this speaker.
    """

    def __init__(self, settings: Settings, grammar: Grammar, reader: Reader) -> None:
        self.understanding = Understanding(settings, grammar, None, reader=reader)
        self._count = 0

    def take(self, heard: Heard, at_s: float, second: Second | None = None) -> Understood:
        """What one utterance does.

        Args:
            heard: its words.
            at_s: when it ended, in seconds of the inspection.
            second: a second ear, asked at once where it can change something, as ``voicelog hear``
                does.
        """
        self._count += 1
        return self.understanding.take(
            heard, utterance=f"u{self._count}", at=_AT, at_s=at_s, began_s=at_s, second=second
        )

    @property
    def answer(self) -> Answer:
        """What stands now."""
        return answer_of(self.understanding.inspection())
