"""What the test line leaves to ``--full``: further seeds, papers and colours of what it runs once."""

import pytest


def the_rest(*values: object) -> list[object]:
    """Values of a parameter that are run with ``--full`` only; a tuple is a value each of several parameters."""
    return [pytest.param(*(each if isinstance(each, tuple) else (each,)), marks=pytest.mark.full) for each in values]
