"""Make the README's picture from the running tool: ``python -m tests.browser.picture``."""

import tempfile
from pathlib import Path

from playwright.sync_api import expect, sync_playwright

from tests.browser.conftest import Server, free_port, launch


def main() -> None:
    server = Server(free_port(), Path(tempfile.mkdtemp()) / "log.txt")
    server.start()
    with sync_playwright() as started:
        browser = launch(started)
        page = browser.new_page(viewport={"width": 1440, "height": 900})
        page.goto(server.url)
        page.locator("#readout[data-state=live]").wait_for()
        page.get_by_role("button", name="no hints").click()
        page.locator("[data-stroke='right cylinder']").fill("-1.5")
        page.locator("#readout[data-state=live]").wait_for()
        page.locator("#plane .plane-height").first.wait_for()
        expect(page.locator("#kept")).to_have_text("kept")
        page.screenshot(path=Path(__file__).with_suffix(".png"))
        browser.close()
    server.stop()


if __name__ == "__main__":
    main()
