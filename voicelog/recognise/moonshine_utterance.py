"""One encoded utterance of the embedded model, decoded step by step for several texts at once."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from numpy import float32
    from numpy.typing import NDArray

    Floats = NDArray[float32]

START, END = 1, 2
"""Tokens that begin and end a text."""

_HEADS, _HEAD_SIZE = 8, 36


class Utterance:
    """Steps of the decoder over one utterance (a :class:`~voicelog.recognise.beam.Decoder`).

    What the decoder keeps of the sound never changes, so it is taken from the first step only and
    repeated once for each number of texts; what it keeps of each text is reordered at every step.
    The network is quantised as it runs, over all texts at once: a text's numbers depend a little
    on the texts beside it.

    Args:
        session: the decoder network.
        hidden: the encoded sound, shape (1, frames, features).
        samples: length of the sound; the mask has to count raw samples.
    """

    def __init__(self, session: Any, hidden: Floats, samples: int) -> None:
        self._session = session
        self._hidden = hidden
        self._samples = samples
        self._inputs = {node.name for node in session.get_inputs()}
        self._outputs = [node.name for node in session.get_outputs()]
        self._of_sound: dict[str, Floats] = {}
        self._of_texts: dict[str, Floats] = {}
        self._repeated: dict[int, dict[str, Floats]] = {}
        self._first: Floats | None = None

    def first_chance(self, token: int) -> float:
        """Log-probability with which the utterance would begin with this token."""
        return float(self._begun()[0, token])

    def start(self) -> Floats:
        """Log-probabilities of the first token, shape (1, vocabulary)."""
        self._first = None
        return self._begun()

    def _begun(self) -> Floats:
        if self._first is None:
            self._first = self._begin()
        return self._first

    def _begin(self) -> Floats:
        import numpy as np

        empty = {
            name: np.zeros((1, _HEADS, self._frames(name), _HEAD_SIZE), np.float32)
            for name in self._inputs
            if name.startswith("past")
        }
        results = self._run([START], self._outputs, {**empty, **self._sound(1)}, first=True)
        self._of_sound = {n: v for n, v in results.items() if ".encoder." in n}
        self._repeated.clear()
        return _log_softmax(results["logits"][:, -1])

    def step(self, parents: Sequence[int], tokens: Sequence[int]) -> Floats:
        """Log-probabilities of the next token of each text, shape (texts, vocabulary)."""
        rows = list(parents)
        past = {name: value[rows] for name, value in self._of_texts.items()}
        wanted = [name for name in self._outputs if ".encoder." not in name]
        results = self._run(tokens, wanted, {**past, **self._sound(len(rows))}, first=False)
        return _log_softmax(results["logits"][:, -1])

    def _run(
        self, tokens: Sequence[int], wanted: list[str], state: dict[str, Any], *, first: bool
    ) -> dict[str, Floats]:
        import numpy as np

        feeds = {
            **state,
            "input_ids": np.array(tokens, np.int64)[:, None],
            "use_cache_branch": np.array([not first]),
        }
        values = self._session.run(wanted, {n: v for n, v in feeds.items() if n in self._inputs})
        results = {
            name.replace("present", "past_key_values"): value
            for name, value in zip(wanted, values, strict=True)
        }
        self._of_texts = {n: v for n, v in results.items() if ".decoder." in n}
        return results

    def _sound(self, texts: int) -> dict[str, Any]:
        import numpy as np

        if texts not in self._repeated:
            every: dict[str, Any] = {
                **self._of_sound,
                "encoder_hidden_states": self._hidden,
                "encoder_attention_mask": np.ones((1, self._samples), np.int64),
            }
            self._repeated = {
                texts: {name: value.repeat(texts, 0) for name, value in every.items()}
            }
        return self._repeated[texts]

    def _frames(self, name: str) -> int:
        return 0 if ".decoder." in name else int(self._hidden.shape[1])


def _log_softmax(logits: Floats) -> Floats:
    import numpy as np

    shifted = logits - logits.max(-1, keepdims=True)
    result: Floats = shifted - np.log(np.exp(shifted).sum(-1, keepdims=True))
    return result
