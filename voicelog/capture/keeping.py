"""Is what opened an utterance really speech? Blows, bursts and squeaks are let go."""

from __future__ import annotations

from voicelog.capture.stretch import Stretch, blocks

LEAST_SPEECH_S = 0.2
"""Speech an utterance must hold. The shortest spoken word of the vocabulary has more."""

SURE = 0.9
"""Speech probability that leaves little doubt."""

LEAST_SURE_S = 0.15
"""Sure speech that an utterance must hold when it stands out of the noise. Measured on synthesised
blows on hollow metal, whose ring lies where voices do: those taken for speech in a quiet room hold
0.13 s of it and less, 63 single words of three synthetic voices 0.19 s and more."""

STANDS_OUT_DB = 7.0
"""Mean level of the speech above the noise floor from which noise is no excuse: in noise the
detector is less sure of words. The same words in shop noise, where they held too little sure
speech, stood out by 6.2 dB at most."""


def is_speech(stretch: Stretch, noise_dbfs: float) -> bool:
    """True when it holds enough speech, and, where noise is no excuse, enough that is sure.

    Args:
        stretch: the open utterance.
        noise_dbfs: the noise floor before it.
    """
    if stretch.speech_blocks() < blocks(LEAST_SPEECH_S):
        return False
    stands_out = stretch.speech_dbfs() - noise_dbfs >= STANDS_OUT_DB
    return not stands_out or stretch.sure_blocks() >= blocks(LEAST_SURE_S)
