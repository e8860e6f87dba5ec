"""No test touches the mounts of whoever runs it."""

from collections.abc import Iterator

import pytest


@pytest.fixture(scope="session", autouse=True)
def data_folder_of_its_own(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Servers the tests start keep their mounts in a folder of the test run."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("BLADE_MOUNT_DATA", str(tmp_path_factory.mktemp("data")))
        yield
