"""No test touches the mounts of whoever runs it; the test line runs a seeded sample of what ``--full`` runs whole, and
one browser engine: ``--engines`` adds the others. ``--first`` leaves the first case of every test, and four examples of
every law."""

from collections.abc import Iterator

import pytest
from hypothesis import settings

settings.register_profile("full", max_examples=100)
settings.register_profile("sample", max_examples=15, derandomize=True)
settings.register_profile("first", max_examples=4, derandomize=True)


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--full", action="store_true", help="every seed, example and repeat, not a seeded sample of them")
    parser.addoption("--first", action="store_true", help="of a test with many cases the first one only")
    parser.addoption("--engines", action="store_true", help="the errands in Firefox and WebKit too, where they are")


def pytest_configure(config: pytest.Config) -> None:
    asked = (name for name in ("full", "first") if config.getoption(name))
    settings.load_profile(next(asked, "sample"))


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave to ``--full`` and ``--engines`` what is marked so; with ``--first`` further cases too."""
    unasked = [name for name in ("full", "engines") if not config.getoption(name)]
    asked = [item for item in items if not any(item.get_closest_marker(name) for name in unasked)]
    if config.getoption("first"):
        # The last one that is put under a name stays: backwards that is the first case.
        asked = list({item.nodeid.partition("[")[0]: item for item in reversed(asked)}.values())[::-1]
    if len(asked) < len(items):
        kept = set(asked)
        config.hook.pytest_deselected(items=[item for item in items if item not in kept])
        items[:] = asked


@pytest.fixture(scope="session", autouse=True)
def data_folder_of_its_own(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Servers the tests start keep their mounts in a folder of the test run."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("BLADE_MOUNT_DATA", str(tmp_path_factory.mktemp("data")))
        yield
