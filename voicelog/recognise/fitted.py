"""The numbers that were fitted for the built-in ear, read from ``fitted.json`` once."""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

from voicelog.recognise.confidence import Confidence
from voicelog.recognise.context import Context

FILE = Path(__file__).with_name("fitted.json")

PLAIN = "moonshine-tiny-en-0.0.49"
"""The model as its package brings it; its curve serves those that have none of their own."""


@cache
def fitted_context() -> Context:
    """Which kind of phrase follows which."""
    told = _document()["context"]
    nats = {(a, b): float(v) for a, row in told["nats"].items() for b, v in row.items()}
    return Context(nats, float(told["strength"]))


def fitted_confidence(model: str = PLAIN) -> Confidence:
    """The curve of the model with this name; that of the published one where it has none."""
    curves = _document()["confidence"]
    told = curves.get(model, curves[PLAIN])
    return Confidence(*(float(told[name]) for name in ("own", "beside", "agreed", "bias")))


@cache
def _document() -> Mapping[str, Any]:
    told: Mapping[str, Any] = json.loads(FILE.read_text(encoding="utf-8"))
    return told
