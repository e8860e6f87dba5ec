/**
 * The edge between sheet and readout: dragged, or moved by the arrow keys, and kept for the next visit.
 * @module pages/sketch/edge
 */

const KEPT = "readout width";
const STEP = 20;
const NARROWEST = 320;
/** What the sheet keeps of the page, pixels. */
const SHEET = 420;

/** @param {HTMLElement} edge */
export function listenToEdge(edge) {
  const main = /** @type {HTMLElement} */ (edge.parentElement);
  const readout = /** @type {HTMLElement} */ (edge.nextElementSibling);
  const widest = () => Math.max(NARROWEST, main.clientWidth - SHEET);
  const now = () => readout.getBoundingClientRect().width;

  /** @param {number|null} width pixels; null: as it was made */
  const set = (width) => {
    if (width === null) main.style.removeProperty("--readout");
    else main.style.setProperty("--readout", `${Math.round(Math.min(Math.max(width, NARROWEST), widest()))}px`);
    tell();
  };
  const tell = () => {
    edge.setAttribute("aria-valuemin", String(NARROWEST));
    edge.setAttribute("aria-valuemax", String(Math.round(widest())));
    edge.setAttribute("aria-valuenow", String(Math.round(now())));
  };
  const keep = () => remember(main.style.getPropertyValue("--readout"));

  edge.addEventListener("pointerdown", (event) => {
    if (event.button !== 0) return;
    event.preventDefault();
    edge.setPointerCapture(event.pointerId);
    edge.focus({ preventScroll: true });
    const grab = now() + event.clientX;
    const move = (/** @type {PointerEvent} */ at) => set(grab - at.clientX);
    edge.addEventListener("pointermove", move);
    edge.addEventListener(
      "lostpointercapture",
      () => {
        edge.removeEventListener("pointermove", move);
        keep();
      },
      { once: true },
    );
  });
  edge.addEventListener("dblclick", () => {
    set(null);
    keep();
  });
  edge.addEventListener("keydown", (event) => {
    const to = {
      ArrowLeft: now() + STEP,
      ArrowRight: now() - STEP,
      Home: widest(),
      End: NARROWEST,
    }[event.key];
    if (to === undefined) return;
    event.preventDefault();
    set(to);
    keep();
  });
  addEventListener("resize", () => set(remembered()));
  set(remembered());
}

/** @param {string} width */
function remember(width) {
  try {
    localStorage.setItem(KEPT, width);
  } catch {
    // Private windows may refuse to keep it.
  }
}

/** @returns {number|null} pixels; null: as it was made */
function remembered() {
  try {
    return Number.parseFloat(localStorage.getItem(KEPT) ?? "") || null;
  } catch {
    return null;
  }
}
