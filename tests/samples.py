"""What the test line leaves to ``--full``: further seeds, papers and colours of what it runs once."""

from collections.abc import Sequence

import pytest


def the_rest(*values: object) -> list[object]:
    """Values of a parameter that are run with ``--full`` only; a tuple is a value each of several parameters."""
    return [pytest.param(*(each if isinstance(each, tuple) else (each,)), marks=pytest.mark.full) for each in values]


def crossed(first: Sequence[object], second: Sequence[object]) -> list[object]:
    """Every value of two parameters with every other; the test line runs each value of either once at least."""
    sample = {(number % len(first), number % len(second)) for number in range(max(len(first), len(second)))}
    every = [(one, two) for one in range(len(first)) for two in range(len(second))]
    return [
        pytest.param(first[one], second[two], marks=() if (one, two) in sample else pytest.mark.full)
        for one, two in every
    ]
