"""The recogniser in torch, with a low-rank correction on every matrix.

The matrices are what the shipped files hold: 8-bit numbers with one scale and one zero each. A corrected
matrix is brought back to such numbers before it is used, so that training already meets the rounding
that the shipped form will have.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import torch
from torch import nn
from torch.nn import functional

RANK = {"encoder": 64, "decoder": 32}
RANGE_EVERY = 8


def weights(file: str) -> dict[str, Any]:
    """The state of the torch model from the file that ``ort_files.py`` wrote."""
    held = np.load(file)
    state = {}
    for name in held.files:
        key, _, part = name.partition("|")
        if part == "q":
            scale, zero = held[f"{key}|s"]
            matrix = (held[name].astype(np.float32) - np.float32(zero)) * np.float32(scale)
            state[key] = torch.from_numpy(
                np.ascontiguousarray(matrix if "embed" in key else matrix.T)
            )
        elif part == "f":
            state[key] = torch.from_numpy(held[name].astype(np.float32))
    embedded = "model.decoder.embed_tokens.weight"
    if embedded not in state:
        state[embedded] = state["proj_out.weight"].clone()
    return state


def network(state: dict[str, Any]) -> Any:
    """The model with these weights, none of them trained."""
    from transformers import MoonshineConfig, MoonshineForConditionalGeneration

    config = MoonshineConfig(tie_word_embeddings=False, attn_implementation="sdpa")
    model = MoonshineForConditionalGeneration(config)
    model.load_state_dict(state)
    return model.requires_grad_(False)


class Corrected(nn.Module):
    """A linear layer or a convolution whose matrix has a low-rank correction."""

    def __init__(self, inner: Any, rank: int) -> None:
        super().__init__()
        self.inner = inner
        rows, columns = inner.weight.shape[0], math.prod(inner.weight.shape[1:])
        self.down = nn.Parameter(torch.randn(rank, columns) / math.sqrt(columns))
        self.up = nn.Parameter(torch.zeros(rows, rank))
        self.uses = 0
        self.scale, self.zero = torch.ones(()), torch.zeros((), dtype=torch.int32)

    def matrix(self) -> Any:
        """The corrected matrix."""
        matrix = self.inner.weight + (self.up @ self.down).view_as(self.inner.weight)
        return self._rounded(matrix) if matrix.ndim == 2 else matrix

    def _rounded(self, matrix: Any) -> Any:
        """As 8-bit numbers hold it; the gradient passes through. The range is looked at now and then."""
        if self.uses % RANGE_EVERY == 0:
            low, high = torch.aminmax(matrix.detach())
            low, high = low.clamp_max(0), high.clamp_min(0)
            self.scale = (high - low) / 255
            self.zero = torch.round(-low / self.scale).to(torch.int32)
        self.uses += 1
        return torch.fake_quantize_per_tensor_affine(matrix, self.scale, self.zero, 0, 255)

    def forward(self, x: Any) -> Any:
        """As the layer itself does it."""
        if self.inner.weight.ndim == 2:
            return functional.linear(x, self.matrix(), self.inner.bias)
        return slid(x, self.matrix(), self.inner.bias, self.inner.stride[0])


class Slid(nn.Module):
    """A convolution that trains whole, done as :func:`slid` does it."""

    def __init__(self, inner: Any) -> None:
        super().__init__()
        self.inner = inner

    def forward(self, x: Any) -> Any:
        """As the layer itself does it."""
        return slid(x, self.inner.weight, self.inner.bias, self.inner.stride[0])


def slid(x: Any, weight: Any, bias: Any, step: int) -> Any:
    """A convolution as one product of matrices, whose gradient is many times faster than the library's."""
    pieces = x.unfold(-1, weight.shape[-1], step).transpose(1, 2).flatten(2)
    return functional.linear(pieces, weight.flatten(1), bias).transpose(1, 2)


def corrected(model: Any) -> Any:
    """The model with corrections on all matrices but the vocabulary's; norms, biases and the first filters train whole."""
    for part, rank in RANK.items():
        for layer in getattr(model.model, part).layers:
            for name, inner in list(layer.named_modules()):
                if isinstance(inner, nn.Linear):
                    where, _, last = name.rpartition(".")
                    setattr(layer.get_submodule(where), last, Corrected(inner, rank))
    encoder = model.model.encoder
    for name in ("conv2", "conv3"):
        setattr(encoder, name, Corrected(getattr(encoder, name), RANK["encoder"]))
    encoder.conv1 = Slid(encoder.conv1)
    for name, parameter in model.named_parameters():
        whole = name.endswith(".bias") or "norm" in name or "conv1" in name
        parameter.requires_grad_(whole or name.endswith((".up", ".down")))
    return model
