"""What the model's .ort files hold: every weight, what it is for, and where its numbers lie.

Read with the flatbuffers classes that onnxruntime ships (they need the package ``flatbuffers``).
``python ort_files.py MODEL_FOLDER OUT.npz`` writes the weights for ``network.py``.
"""

from __future__ import annotations

import re
import sys
import types
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np

ENCODER, DECODER = "encoder_model.ort", "decoder_model_merged.ort"
TYPES = {
    1: np.float32,
    2: np.uint8,
    3: np.int8,
    6: np.int32,
    7: np.int64,
    9: np.bool_,
    10: np.float16,
}
EMBEDDED = "model.decoder.embed_tokens.weight"
RAW_DATA = 12
"""Slot of the raw data in a tensor's table."""
EDGE = r"^/|/MatMul_quant$"


def graphs(file: Path) -> Iterator[Any]:
    """The main graph and those inside its nodes."""
    import onnxruntime

    base = Path(onnxruntime.__file__).parent / "tools/ort_format_model/ort_flatbuffers_py"
    package = types.ModuleType("ort_flatbuffers_py")
    package.__path__ = [str(base)]
    sys.modules["ort_flatbuffers_py"] = package
    from ort_flatbuffers_py.fbs.InferenceSession import InferenceSession

    waiting = [InferenceSession.GetRootAs(bytearray(file.read_bytes()), 0).Model().Graph()]
    while waiting:
        graph = waiting.pop(0)
        yield graph
        for node in map(graph.Nodes, range(graph.NodesLength())):
            inner = (node.Attributes(n).G() for n in range(node.AttributesLength()))
            waiting += [each for each in inner if each is not None]


def offsets(file: Path) -> dict[str, tuple[int, int]]:
    """Name of each weight to where its numbers begin in the file, and how many bytes they take."""
    found = {}
    for graph in graphs(file):
        for tensor in map(graph.Initializers, range(graph.InitializersLength())):
            if tensor.RawDataLength():
                at = tensor._tab.Vector(tensor._tab.Offset(RAW_DATA))
                found[tensor.Name().decode()] = (at, tensor.RawDataLength())
    return found


def values(file: Path) -> dict[str, Any]:
    """Name of each weight to its numbers."""
    found = {}
    for graph in graphs(file):
        for tensor in map(graph.Initializers, range(graph.InitializersLength())):
            if tensor.DataType() in TYPES and tensor.RawDataLength():
                shape = [tensor.Dims(n) for n in range(tensor.DimsLength())]
                raw = tensor.RawDataAsNumpy().tobytes()
                found[tensor.Name().decode()] = np.frombuffer(
                    raw, TYPES[tensor.DataType()]
                ).reshape(shape)
    return found


def layout(folder: Path, file: str) -> dict[str, tuple[str, str, Any]]:
    """Torch's name of each weight to its kind, its name in the file and its numbers.

    Kind ``q8`` has 8-bit numbers, a scale and a zero; kind ``f`` has floats.
    """
    held, found = values(folder / file), dict[str, tuple[str, str, Any]]()
    prefix = "model.encoder." if file == ENCODER else ""

    def quantised(name: str) -> tuple[str, str, Any]:
        return (
            "q8",
            name,
            (
                held[f"{name}_quantized"],
                float(held[f"{name}_scale"]),
                int(held[f"{name}_zero_point"]),
            ),
        )

    for graph in graphs(folder / file):
        for node in map(graph.Nodes, range(graph.NodesLength())):
            if node.OpType() in (b"MatMulIntegerToFloat", b"DynamicQuantizeMatMul"):
                inputs = [node.Inputs(n).decode() for n in range(node.InputsLength())]
                name = next(
                    i for i in inputs if i.startswith("onnx::") and i.endswith("_quantized")
                )
                key = re.sub(EDGE, "", node.Name().decode()).replace("/", ".")
                found[f"{prefix}{key}.weight"] = quantised(name.removesuffix("_quantized"))
    for name, numbers in held.items():
        if file == ENCODER and re.match(r"(layers\.\d+|layer_norm|conv\d)\..*(weight|bias)$", name):
            found[prefix + name] = ("f", name, numbers)
        if file == ENCODER and (match := re.match(r"(conv\d\.weight)_add_tensor$", name)):
            found[prefix + match[1]] = ("f", name, numbers)
        if match := re.match(r"(model\.decoder\..*\.(weight|bias))_merged_\d+$", name):
            found[match[1]] = ("f", name, numbers)
    if file == ENCODER:
        found["model.encoder.groupnorm.weight"] = ("f", "onnx::Mul_2080", held["onnx::Mul_2080"])
        found["model.encoder.groupnorm.bias"] = ("f", "onnx::Add_2081", held["onnx::Add_2081"])
    return found


def main() -> None:
    """Write all weights; the embedding is left out, it is the output's matrix turned."""
    folder, out = Path(sys.argv[1]), dict[str, Any]()
    for file in (ENCODER, DECODER):
        for key, (kind, _, value) in layout(folder, file).items():
            if kind == "q8":
                out[f"{key}|q"], out[f"{key}|s"] = value[0], np.array(value[1:], np.float64)
            else:
                out[f"{key}|f"] = value.reshape(-1) if "groupnorm" in key else value
    np.savez_compressed(sys.argv[2], **out)


if __name__ == "__main__":
    main()
