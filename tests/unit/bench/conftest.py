"""The benches lie beside the tests, as scripts: put their folder where imports are looked for."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2] / "bench"))
