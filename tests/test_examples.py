"""The example that draws a figure, run as it stands with a stand-in for the plotting library that notes what it is
handed: drawing itself is that library's affair, and the test line needs no copy of it."""

import runpy
import sys
from pathlib import Path
from unittest.mock import MagicMock

import numpy as np
import pytest

EXAMPLE = Path(__file__).parent / "examples" / "inward.py"


@pytest.fixture
def plotter(monkeypatch: pytest.MonkeyPatch) -> MagicMock:
    """Stands in for matplotlib."""
    pyplot = MagicMock()
    pyplot.subplots.return_value = (MagicMock(), (MagicMock(), MagicMock()))
    monkeypatch.setitem(sys.modules, "matplotlib", MagicMock(pyplot=pyplot))
    monkeypatch.setitem(sys.modules, "matplotlib.pyplot", pyplot)
    return pyplot


def test_the_figure_shows_error_growing_inward_and_with_clearance_and_a_gap_beyond_reach(
    plotter: MagicMock, capsys: pytest.CaptureFixture[str]
) -> None:
    runpy.run_path(str(EXAMPLE))
    figure, (left, right) = plotter.subplots.return_value
    lines = np.ma.stack([call.args[1] for call in left.plot.call_args_list])
    assert lines.shape == (3, 12)
    assert (np.diff(lines, axis=1) > 0).all()
    assert (np.diff(lines, axis=0) > 0).all()
    assert np.ma.getmaskarray(lines)[0].tolist() == [False] * 10 + [True] * 2
    assert right.contour.call_args.args[2].shape == (9, 12)
    figure.savefig.assert_called_once()
    assert "mm inward: members[1].ends: 'right cylinder' is drawn" in capsys.readouterr().out
