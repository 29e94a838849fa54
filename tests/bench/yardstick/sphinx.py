"""A plain recogniser of the older kind, for comparison: pocketsphinx with its own English model."""

from __future__ import annotations

from importlib.metadata import version

from voicelog.domain.heard import Heard, Hypothesis
from voicelog.recognise.port import Expected


class SphinxEar:
    """Hears general English with the model that the package carries; it has no vocabulary to lean to."""

    engine = "pocketsphinx"

    def __init__(self) -> None:
        from pocketsphinx import Decoder

        self.model = f"pocketsphinx {version('pocketsphinx')} en-us"
        self._decoder = Decoder(samprate=16000.0, loglevel="FATAL")
        self._open = False

    def expect(self, expected: Expected) -> None:
        """Nothing that is known beforehand makes a difference."""

    def feed(self, pcm: bytes) -> None:
        """Take the next sound of the open utterance; it is decoded at once."""
        if not self._open:
            self._decoder.start_utt()
            self._open = True
        self._decoder.process_raw(pcm, False, False)

    def partial(self) -> str:
        """What the open utterance sounds like so far."""
        return self._text() if self._open else ""

    def finish(self) -> Heard:
        """Close the utterance."""
        if not self._open:
            return Heard((), self.engine, self.model)
        self.forget()
        text = self._text()
        return Heard((Hypothesis(text),) if text else (), self.engine, self.model)

    def forget(self) -> None:
        """Close the utterance unheard."""
        if self._open:
            self._decoder.end_utt()
        self._open = False

    def close(self) -> None:
        """Let go of the model."""
        self.forget()

    def _text(self) -> str:
        found = self._decoder.hyp()
        return found.hypstr if found is not None else ""
