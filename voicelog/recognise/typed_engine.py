"""The ear for text from a keyboard or a file: it listens to nothing and believes every word."""

from __future__ import annotations

from voicelog.domain.heard import Heard
from voicelog.errors import EarFault
from voicelog.recognise.port import Expected
from voicelog.tongue import worded


class TypedEar:
    """Takes text where the others take sound, for tests, replay and days too noisy to hear."""

    engine = "typed"
    model = ""

    def __init__(self) -> None:
        self._text: list[str] = []

    def write(self, text: str) -> None:
        """Add words to the open utterance."""
        self._text.append(text.strip())

    def expect(self, expected: Expected) -> None:
        """Ignored."""

    def feed(self, pcm: bytes) -> None:
        """Refuse sound.

        Raises:
            EarFault: always.
        """
        raise EarFault(
            worded(
                "The typed ear cannot listen to sound ({count} bytes of it came)",
                count=len(pcm),
            ),
            worded('Give the words as text: voicelog read "…", or choose another ear'),
        )

    def partial(self) -> str:
        """The words so far."""
        return " ".join(self._text)

    def finish(self) -> Heard:
        """The words, as heard with certainty; no hypotheses when none were written."""
        text, self._text = self.partial(), []
        return Heard.typed(text) if text else Heard((), engine=self.engine)

    def forget(self) -> None:
        """Drop the open utterance."""
        self._text = []

    def close(self) -> None:
        """Forget the open utterance."""
        self.forget()
