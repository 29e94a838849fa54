"""Corrections laid over the embedded model's weights: their arithmetic, and the file that ships."""

from __future__ import annotations

import hashlib
from pathlib import Path

import numpy as np
import pytest

from voicelog.errors import EarFault
from voicelog.recognise import adapted
from voicelog.recognise.moonshine_model import DECODER, ENCODER, model_folder


def test_a_matrix_in_bytes_is_off_by_half_a_step_at_most() -> None:
    """Otherwise the networks would lose more than 8 bits must lose."""
    matrix = np.array([[0.5, -1.0, 0.0], [2.0, 0.25, -0.75]], np.float32)
    steps, scale, zero = adapted.in_bytes(matrix)
    back = (steps.astype(float) - float(zero)) * float(scale)
    assert np.abs(back - matrix).max() <= float(scale) / 2 + 1e-6
    assert steps.dtype == zero.dtype == np.uint8


def test_nothing_stays_nothing_in_bytes() -> None:
    """The range always holds 0, and a matrix of zeros has no range to divide by."""
    steps, scale, zero = adapted.in_bytes(np.zeros((2, 2), np.float32))
    assert float(scale) > 0
    assert (steps == zero).all()
    steps, _, zero = adapted.in_bytes(np.full((1, 2), 3.0, np.float32))
    assert int(zero) == 0
    assert (steps == 255).all()


def test_two_thin_factors_make_the_correction() -> None:
    """Each row of a factor has its own scale."""
    part = {
        "u": np.array([[1, 2], [3, 0]], np.int8), "us": np.array([0.5, 1.0], np.float32),
        "d": np.array([[2, 0, 1], [0, 4, 0]], np.int8), "ds": np.array([1.0, 0.25], np.float32),
    }  # fmt: skip
    up, down = np.array([[0.5, 1.0], [3.0, 0.0]]), np.array([[2.0, 0.0, 1.0], [0.0, 1.0, 0.0]])
    assert np.allclose(adapted.product(part), up.T @ down)


def test_the_shipped_file_is_the_one_that_was_measured() -> None:
    """Whoever trains anew has to write the new checksum down, and with it the new figures."""
    assert hashlib.sha256(adapted.FILE.read_bytes()).hexdigest() == adapted.SHA256


def test_an_altered_file_is_refused(tmp_path: Path) -> None:
    """Wrong weights would hear wrong words without a word of warning."""
    altered = tmp_path / adapted.FILE.name
    altered.write_bytes(adapted.FILE.read_bytes()[:-1] + b"!")
    with pytest.raises(EarFault, match="not the one"):
        adapted.read(altered)
    with pytest.raises(EarFault, match="cannot be read"):
        adapted.read(tmp_path / "none.npz")


@pytest.mark.parametrize(("name", "matrices"), [(ENCODER, 36), (DECODER, 60)])
def test_every_matrix_gets_a_correction_of_its_own_size(name: str, matrices: int) -> None:
    """The library takes what it is given for a weight: its type and size have to be right here."""
    instead = adapted.corrections(name, model_folder())
    quantised = [key for key in instead if key.endswith("_quantized")]
    assert len(quantised) == matrices
    assert all(instead[key].dtype == np.uint8 and instead[key].ndim == 2 for key in quantised)
    assert all(np.isfinite(value).all() for value in instead.values())
