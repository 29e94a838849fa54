"""Fit the built-in ear's numbers anew; run ``nice python tests/bench/calibrate.py``.

Two things are fitted on the *tuning* part alone: which kind of phrase follows which (counted in the
texts of the corpus, those that the speech set speaks left out), and the curve that makes chances
of the model's probabilities (on sound in tuning noises). The curve is fitted on half of the voices and
judged on the others, both ways, which is what is printed; with ``--write`` the one of all voices goes into
``voicelog/recognise/fitted.json``. ``--ear`` fits the curve of the model without its corrections, or of the
second ear. The corrections were trained on the texts and voices of the tuning part, so the curve is fitted on other voices that
say other texts: what was heard in training is heard too well.
"""

from __future__ import annotations

import argparse
import json
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import numpy as np
from corpus import FOLDER, _script, case_of, load
from fitting import Fit, fitted, judged
from kinds import counted
from teaching import parser
from yardstick.noises import CONDITIONS
from yardstick.speech_set import Spoken, clip_of, speech_set
from yardstick.voices import Voice

from voicelog.config.grammar import load_grammar
from voicelog.domain.heard import Heard, heard_from_json, heard_to_json
from voicelog.recognise.fitted import FILE
from voicelog.recognise.moonshine_engine import MoonshineEar
from voicelog.recognise.moonshine_model import ADAPTED_MODEL, MODEL
from voicelog.recognise.port import Ear, hear_clip
from voicelog.recognise.whisper_engine import WhisperEar
from voicelog.recognise.whisper_model import MODEL as SECOND_MODEL

PLACES = ("quiet", "20 dB", "10 dB", "5 dB")
EACH = 14
"""Utterances for each tuning voice, in all places: 336 clips, a few minutes on two cores."""
TEXTS = FOLDER / "calibration.txt"
"""What is spoken to fit the curve: written by a hand of its own, and in no training."""
STRANGERS = (
    Voice("hts", "festival", "cmu_us_slt_arctic_hts"),
    Voice("boris", "espeak", "en-us+boris"),
    Voice("pedro", "espeak", "en-gb+pedro", speed=1.1),
)
"""Who speaks them: voices that the corrections were not trained on (of one of them, another
synthesiser's), and of which nothing is reported."""
GENERATED, SEED = 3000, 777
"""Generated cases that are counted beside the hand-written ones, from a seed of their own."""
WEIGHT = 0.3
"""What a generated text counts beside a hand-written one."""
MODELS = {"built-in": ADAPTED_MODEL, "as-published": MODEL, "second": SECOND_MODEL}
"""What each ear is called in ``fitted.json``. The second one has no curve there: fitted on half of the voices it
told little more on the others (error 0.127 to 0.090 and 0.094 to 0.105)."""
STRENGTH = 0.5
"""Factor on the context's nats, measured on the validating voices."""


def main() -> None:
    """Run it."""
    asked = _arguments()
    spoken = _spoken()
    name = MODELS[asked.ear]
    told: dict[str, Any] = json.loads(FILE.read_text("utf-8")) if FILE.exists() else {}
    told["context"] = {
        "strength": STRENGTH,
        **_about("texts of the tuning corpus"),
        "nats": _nats(),
    }
    if not asked.context:
        heard = _heard(spoken, asked.clips, asked.kept, name)
        for half, judgement in judged(heard).items():
            print(half, judgement)
        about = _about(
            f"{len(heard)} clips in three voices of no other set, texts by a hand of their own"
        )
        told.setdefault("confidence", {})[name] = {**_numbers(fitted(heard)), **about}
    if asked.write:
        FILE.write_text(json.dumps(told, indent=1, sort_keys=True) + "\n", "utf-8")


def _nats() -> dict[str, dict[str, float]]:
    """The bonus by kind before and kind now, without what the speech set speaks."""
    spoken = {one.text for one in speech_set("tuning", conditions=CONDITIONS[:1])}
    hand = load("tuning/hand")
    made = _script("generate").cases(SEED, GENERATED, "tuning")
    weighted = [(case.say, 1.0) for case in hand] + [(tuple(d["say"]), WEIGHT) for d in made]
    kept = [(say, weight) for say, weight in weighted if not spoken.intersection(say)]
    return counted(kept, load_grammar().vocabulary)


def _spoken() -> list[Spoken]:
    """Strangers in the tuning noises, saying what hardly anybody has said before."""
    known = speech_set("tuning", conditions=[c for c in CONDITIONS if c.name in PLACES], each=EACH)
    lines = TEXTS.read_text("utf-8").splitlines()
    names = dict.fromkeys(one.case.id for one in known)
    texts = {
        name: case_of({"id": name, "say": [line], "want": []}, "tuning", "calibration")
        for name, line in zip(names, lines, strict=True)
    }
    voices = {name: STRANGERS[nth % len(STRANGERS)] for nth, name in enumerate(texts)}
    return [replace(one, case=texts[one.case.id], voice=voices[one.case.id]) for one in known]


def _heard(
    spoken: Sequence[Spoken], clips: Path, kept: Path | None, model: str
) -> list[tuple[Spoken, Heard]]:
    """What the ear makes of each, its probabilities as they are.

    Raises:
        SystemExit: what was kept is of another model, or lacks some of the clips.
    """
    if kept is not None and kept.exists():
        known = {key: heard_from_json(h) for key, h in json.loads(kept.read_text("utf-8")).items()}
        if any(one.key not in known or known[one.key].model != model for one in spoken):
            raise SystemExit(f"{kept} is of another model or of other clips: name another file")
        return [(one, known[one.key]) for one in spoken]
    heard = list(_hearing(spoken, clips, model))
    if kept is not None:
        kept.write_text(json.dumps({one.key: heard_to_json(h) for one, h in heard}), "utf-8")
    return heard


def _hearing(spoken: Sequence[Spoken], clips: Path, model: str) -> Iterator[tuple[Spoken, Heard]]:
    ear = _ear(model)
    for one in spoken:
        yield one, hear_clip(ear, clip_of(one, clips))


def _ear(model: str) -> Ear:
    """With the model's own probabilities."""
    vocabulary = load_grammar().vocabulary
    if model == SECOND_MODEL:
        return WhisperEar(vocabulary.telling())
    return MoonshineEar(vocabulary.telling(), classes=vocabulary.classes(), chances=False,
                        adapted=model == ADAPTED_MODEL)  # fmt: skip


def _numbers(fit: Fit) -> dict[str, float]:
    names = ("own", "beside", "agreed", "bias")
    return {name: round(float(v), 3) for name, v in zip(names, np.asarray(fit), strict=True)}


def _about(made_of: str) -> dict[str, str]:
    return {"fitted": datetime.now(UTC).date().isoformat(), "on": made_of}


def _arguments() -> argparse.Namespace:
    asks = parser(__doc__)
    add = asks.add_argument
    add("--clips", type=Path, default=Path("build/clips"), help="folder of the speech set's sound")
    add("--kept", type=Path, help="file that keeps what was heard, so that it is heard once")
    add("--ear", choices=MODELS, default="built-in", help="whose curve is fitted")
    add("--context", action="store_true", help="count the kinds only; hear nothing")
    add("--write", action="store_true", help="put the numbers into the package")
    return asks.parse_args()


if __name__ == "__main__":
    main()
