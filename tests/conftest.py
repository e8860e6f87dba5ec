"""No test touches the mounts of whoever runs it; the test line runs a seeded sample of what ``--full`` runs whole."""

from collections.abc import Iterator

import pytest
from hypothesis import settings

settings.register_profile("full", max_examples=100)
settings.register_profile("sample", max_examples=30, derandomize=True)


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--full", action="store_true", help="every seed, example and repeat, not a seeded sample of them")


def pytest_configure(config: pytest.Config) -> None:
    settings.load_profile("full" if config.getoption("full") else "sample")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave to ``--full`` what is marked so."""
    if not config.getoption("full"):
        left = [item for item in items if item.get_closest_marker("full")]
        config.hook.pytest_deselected(items=left)
        items[:] = [item for item in items if item not in left]


@pytest.fixture(scope="session", autouse=True)
def data_folder_of_its_own(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Servers the tests start keep their mounts in a folder of the test run."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("BLADE_MOUNT_DATA", str(tmp_path_factory.mktemp("data")))
        yield
