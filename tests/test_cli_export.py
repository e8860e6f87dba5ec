"""What an export may not replace, and what a refused one leaves behind."""

import os
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from app.cli import main
from app.export import EXPORTS
from app.shipped import folder

TWIN = folder("scenarios") / "3-twin-cylinders.json"
ROOT = Path(__file__).parents[1]


@pytest.mark.parametrize("task", [f"export-{name}" for name in EXPORTS])
def test_the_document_is_not_replaced_under_a_second_name(
    task: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A hard link stands for what another case of the letters is on a disk that ignores case."""
    file, second = tmp_path / "mount.json", tmp_path / "second.json"
    file.write_bytes(TWIN.read_bytes())
    os.link(file, second)
    assert main([task, str(file), str(second)]) == 2
    assert "is the document itself" in capsys.readouterr().err
    assert second.read_bytes() == TWIN.read_bytes()


@pytest.mark.skipif(sys.platform == "win32", reason="there are no pipes in folders")
def test_a_pipe_or_device_is_not_replaced_by_a_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    assert main(["export-csv", str(TWIN), str(pipe)]) == 2
    assert "cannot be written (is no plain file); give another place" in capsys.readouterr().err
    assert stat.S_ISFIFO(pipe.stat().st_mode)
    assert os.listdir(tmp_path) == ["pipe"]


@pytest.mark.parametrize("task", [f"export-{name}" for name in EXPORTS])
def test_a_document_with_two_faults_writes_nothing_and_names_both(
    task: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    bad = tmp_path / "bad.json"
    bad.write_text('{"format": 1, "title": "", "blade": {"left": [1, 0], "right": [0, 0]}, "members": []}')
    assert main([task, str(bad), str(tmp_path / "out")]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert [line.split(":")[0] for line in said.err.splitlines()] == ["title", "blade.left"]
    assert os.listdir(tmp_path) == ["bad.json"]


def test_a_killed_export_leaves_the_old_file_whole(tmp_path: Path) -> None:
    """The process ends between the last byte and the change of names, without a chance to tidy up."""
    out = tmp_path / "table.csv"
    out.write_text("from yesterday")
    killed = (
        "import os; from app.cli import main; os.fsync = lambda _: os._exit(9); "
        f"main(['export-csv', {str(TWIN)!r}, {str(out)!r}])"
    )
    assert subprocess.run([sys.executable, "-c", killed], cwd=ROOT, check=False).returncode == 9
    assert out.read_text() == "from yesterday"
    assert main(["export-csv", str(TWIN), str(out)]) == 0
    assert out.read_bytes().startswith("\ufeffsection,item".encode())


def test_a_data_folder_that_cannot_be_opened_ends_the_server_before_it_says_where_it_is(tmp_path: Path) -> None:
    (tmp_path / "data").write_text("a file where the folder should be")
    command = [sys.executable, "-m", "app", "--no-open", "--data", str(tmp_path / "data")]
    ended = subprocess.run(command, cwd=ROOT, check=False, capture_output=True, text=True, timeout=30)
    assert (ended.returncode, ended.stdout) == (2, "")
    [line] = ended.stderr.splitlines()
    assert "your mounts cannot be kept here (" in line
    assert "--data" in line
