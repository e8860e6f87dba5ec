"""The words on a sheet: what is at fault with where they stand."""

from playwright.sync_api import Page

FAULTS = """() => [...document.querySelectorAll("svg#sheet, #sheet svg")].flatMap((sheet) => {
  const room = sheet.getBoundingClientRect();
  const boxes = (selector) =>
    [...sheet.querySelectorAll(selector)]
      .filter((each) => getComputedStyle(each).visibility === "visible" && each.getClientRects().length)
      .map((each) => ({ words: each.textContent || each.getAttribute("class"), box: each.getBoundingClientRect() }))
      .filter(({ box }) => box.width > 0);
  // Words on a plate of their own count as the plate.
  const shown = [
    ...boxes(".layer-facts rect, .layer-coordinates rect"),
    ...boxes("g:not(.layer-facts, .layer-coordinates) > text"),
  ];
  const found = [];
  shown.forEach((a, index) => {
    const off = [room.left - a.box.left, a.box.right - room.right, room.top - a.box.top, a.box.bottom - room.bottom];
    if (Math.max(...off) > 1) found.push(`'${a.words}' leaves the sheet`);
    for (const b of shown.slice(index + 1)) {
      const across = Math.min(a.box.right, b.box.right) - Math.max(a.box.left, b.box.left);
      const upright = Math.min(a.box.bottom, b.box.bottom) - Math.max(a.box.top, b.box.top);
      if (across > 1 && upright > 1) found.push(`'${a.words}' lies over '${b.words}'`);
    }
  });
  for (const ring of sheet.querySelectorAll(".centre-ring")) {
    const { left, right, top, bottom } = ring.getBoundingClientRect();
    const [x, y] = [(left + right) / 2, (top + bottom) / 2];
    for (const { words, box } of shown)
      if (box.left < x && x < box.right && box.top < y && y < box.bottom) found.push(`'${words}' covers the centre`);
  }
  return found;
})"""

PAINTED = "() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))"


def faults(page: Page) -> list[str]:
    """Texts that overlap by more than a pixel, leave the sheet or cover the instant centre; plates count as texts."""
    page.evaluate(PAINTED)
    found: list[str] = page.evaluate(FAULTS)
    return found
