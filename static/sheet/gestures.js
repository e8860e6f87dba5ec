/**
 * Gestures on the sheet: taking hold of the nearest handle, setting places with a tool, a selection frame, moving and
 * pinching the paper, and the arrow keys. Gestures say where things should go; they never touch the document.
 * @module sheet/gestures
 */

import { targetRadius } from "./marks/handles.js";

/** @typedef {[number, number]} Pixel */

/**
 * What a pointer holds: a handle, or the paper.
 * @typedef {Object} Held
 * @property {number} pointer
 * @property {string|null} name of the handle
 * @property {Pixel} grab from the handle's middle to where it was taken hold of
 * @property {Pixel} from where the pointer went down
 * @property {Pixel} last
 * @property {boolean} moved
 * @property {boolean} framing it draws a selection frame
 * @property {boolean} again the handle was picked before
 * @property {{at: Pixel, free: boolean}|null} [told] where the handle was last said to be
 */

/**
 * @typedef {Object} Gestures
 * @property {(name: string) => Pixel} whereIs pixels of a handle
 * @property {() => string|null} tool the drawing tool in hand
 * @property {() => string|null} picked the handle that is picked
 * @property {() => boolean} several whether picking adds to what is picked
 * @property {(name: string, more: boolean) => void} onPick
 * @property {() => void} onStart a move begins
 * @property {(name: string, at: Pixel, free: boolean) => void} onMove free of grid and guides
 * @property {() => void} onEnd
 * @property {() => void} onCancel put it back where the move began
 * @property {(at: Pixel) => boolean} onTap a tap on the paper; true when it was used
 * @property {(at: Pixel, free: boolean) => void} onOver the tool is over a place
 * @property {() => void} onSet the tool sets the place
 * @property {() => void} [onBack] the last place is taken back
 * @property {(dx: number, dy: number) => void} onCross steps of the grid, y up
 * @property {(frame: [Pixel, Pixel]|null, done: boolean) => void} onFrame
 * @property {(dx: number, dy: number) => void} onPan
 * @property {(at: Pixel, factor: number) => void} onZoom
 * @property {(name: string, dx: number, dy: number) => void} onNudge steps of the grid, y up
 * @property {(id: string, at: Pixel) => void} onChoose a tap on a member
 * @property {(index: number) => void} onDimension a tap on a held dimension
 * @property {(index: number) => void} onConstruction a tap on a construction line or point
 * @property {(index: number) => void} onOutline a tap on an outline drawn by hand
 * @property {(index: number) => void} [onRelease] it is taken away
 * @property {(name: string) => void} [onReach] with a tool in hand the focus came to a handle
 * @property {() => void} [onOpen] Enter on a joint: to its fields
 * @property {() => boolean} [boxing] whether a drag draws a rectangle, whatever lies under it
 * @property {() => void} onLetGo a tap on bare paper
 * @property {() => void} onDelete
 */

/**
 * @param {import("./sheet.js").Sheet} sheet
 * @param {Gestures} gestures
 */
export function listen(sheet, gestures) {
  const { svg } = sheet;
  /** @type {Held|null} */
  let held = null;
  /** Fingers on the paper. @type {Map<number, Pixel>} */
  const fingers = new Map();

  svg.addEventListener("pointerdown", (event) => {
    sheet.held = true;
    const at = sheet.at(event);
    if (event.pointerType === "touch") fingers.set(event.pointerId, at);
    if (fingers.size === 2) {
      if (held?.name && held.moved) gestures.onCancel();
      held = null;
      return;
    }
    if (held || event.button !== 0) return;
    svg.setPointerCapture(event.pointerId);
    event.preventDefault();
    if (gestures.tool()) {
      gestures.onOver(at, event.altKey);
      held = {
        pointer: event.pointerId,
        name: null,
        grab: [0, 0],
        from: at,
        last: at,
        moved: false,
        framing: false,
        again: false,
      };
      svg.focus({ preventScroll: true });
      return;
    }
    const boxing = gestures.boxing?.() ?? false;
    const name = boxing ? null : meant(sheet, at, gestures);
    const grab = name ? gestures.whereIs(name) : at;
    held = {
      pointer: event.pointerId,
      name,
      grab: [at[0] - grab[0], at[1] - grab[1]],
      from: at,
      last: at,
      moved: false,
      framing: !name && (event.shiftKey || boxing),
      again: name !== null && name === gestures.picked(),
    };
    if (!name) return;
    gestures.onPick(name, event.shiftKey || gestures.several());
    /** @type {SVGElement|null} */ (svg.querySelector(`[data-handle="${CSS.escape(name)}"]`))?.focus({
      preventScroll: true,
    });
  });

  /** Move what is held, once for every place. @param {PointerEvent} event @param {Pixel} at */
  const carry = (event, at) => {
    if (!held?.name) return;
    const { told, grab, name } = held;
    if (told && told.at[0] === at[0] && told.at[1] === at[1] && told.free === event.altKey) return;
    held.told = { at, free: event.altKey };
    gestures.onMove(name, [at[0] - grab[0], at[1] - grab[1]], event.altKey);
  };

  // Moves are told of once a frame, just before it is drawn: an answer to them comes a frame late. A browser that tells
  // of them between frames too has it asked for at once, so that drawing and numbers come in the same frame.
  let heard = 0;
  svg.addEventListener("pointerrawupdate", (event) => {
    if (!(event instanceof PointerEvent) || !held?.moved || event.pointerId !== held.pointer) return;
    if (fingers.size > 1 || event.timeStamp - heard < BETWEEN_MS) return;
    heard = event.timeStamp;
    carry(event, sheet.at(event));
  });

  svg.addEventListener("pointermove", (event) => {
    const at = sheet.at(event);
    if (fingers.has(event.pointerId)) {
      if (fingers.size === 2) {
        pinch(fingers, event.pointerId, at, gestures);
        return;
      }
      fingers.set(event.pointerId, at);
    }
    if (gestures.tool() && (!held || !held.moved)) gestures.onOver(at, event.altKey);
    if (!held || event.pointerId !== held.pointer) return;
    if (!held.moved) {
      if (Math.hypot(at[0] - held.from[0], at[1] - held.from[1]) < (event.pointerType === "touch" ? 6 : 2)) return;
      if (gestures.tool()) return;
      held.moved = true;
      if (held.name) gestures.onStart();
    }
    if (held.name) carry(event, at);
    else if (held.framing) gestures.onFrame([held.from, at], false);
    else {
      gestures.onPan(at[0] - held.last[0], at[1] - held.last[1]);
      held.last = at;
    }
  });

  svg.addEventListener("pointerup", (event) => {
    fingers.delete(event.pointerId);
    sheet.held = fingers.size > 0;
    if (!held || event.pointerId !== held.pointer) return;
    const { name, moved, from, framing, again } = held;
    held = null;
    if (gestures.tool()) gestures.onSet();
    else if (name && moved) gestures.onEnd();
    else if (framing && moved) gestures.onFrame([from, sheet.at(event)], true);
    else if (name && again && !gestures.several()) beneath(sheet, name, gestures);
    else if (!moved && !name && !gestures.onTap(from)) {
      const under = document.elementFromPoint(event.clientX, event.clientY);
      const member = under?.closest("[data-member]");
      const dimension = dimensionOf(under);
      const outline = outlineOf(under);
      const line = constructionOf(under);
      if (dimension !== null) gestures.onDimension(dimension);
      else if (member) gestures.onChoose(member.getAttribute("data-member") ?? "", from);
      else if (outline !== null) gestures.onOutline(outline);
      else if (line !== null) gestures.onConstruction(line);
      else gestures.onLetGo();
    }
  });

  const cancel = () => {
    if (held?.name && held.moved) gestures.onCancel();
    if (held?.framing) gestures.onFrame(null, true);
    held = null;
  };
  svg.addEventListener("pointercancel", (event) => {
    fingers.delete(event.pointerId);
    sheet.held = fingers.size > 0;
    cancel();
  });

  svg.addEventListener(
    "wheel",
    (event) => {
      // Where the page itself scrolls, a plain turn of the wheel is the page's; with Ctrl, or a pinch, it is the
      // sheet's.
      const scrolls = document.documentElement.scrollHeight > innerHeight + 4;
      if (scrolls && !event.ctrlKey) return;
      event.preventDefault();
      gestures.onZoom(sheet.at(event), Math.exp(-event.deltaY * (event.deltaMode === 1 ? 0.05 : 0.0015)));
    },
    { passive: false },
  );

  svg.addEventListener("focusin", (event) => {
    const name = handleOf(event.target);
    if (!name || held) return;
    if (gestures.tool()) gestures.onReach?.(name);
    else if (!gestures.several()) gestures.onPick(name, false);
  });

  addEventListener("keydown", (event) => {
    if (event.key === "Escape" && held) {
      cancel();
      event.preventDefault();
      event.stopImmediatePropagation();
    }
  });

  svg.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey) return;
    const step = STEPS[event.key];
    const times = event.shiftKey ? 10 : event.altKey ? 0.1 : 1;
    const name = handleOf(event.target);
    const dimension = gestures.tool() ? null : dimensionOf(event.target);
    if (dimension !== null) {
      if (event.key === "Enter" || event.key === " ") gestures.onDimension(dimension);
      else if ((event.key === "Delete" || event.key === "Backspace") && gestures.onRelease)
        gestures.onRelease(dimension);
      else return;
      event.preventDefault();
      return;
    }
    const outline = gestures.tool() ? null : outlineOf(event.target);
    const line = gestures.tool() ? null : constructionOf(event.target);
    if (outline !== null || line !== null) {
      if (event.key !== "Enter" && event.key !== " ") return;
      if (outline !== null) gestures.onOutline(outline);
      else gestures.onConstruction(line ?? 0);
      event.preventDefault();
      return;
    }
    if (gestures.tool()) {
      if (event.key === "Backspace") gestures.onBack?.();
      else if (step) gestures.onCross(step[0] * times, step[1] * times);
      else if (event.key === "Enter" || event.key === " ") gestures.onSet();
      else return;
    } else if (!name) return;
    else if (event.key === "Escape") gestures.onCancel();
    else if (event.key === "Delete" || event.key === "Backspace") gestures.onDelete();
    else if (event.key === "Enter" && !event.shiftKey && !gestures.several() && gestures.onOpen) {
      gestures.onPick(name, false);
      gestures.onOpen();
    } else if (event.key === "Enter" || event.key === " ") gestures.onPick(name, event.shiftKey || gestures.several());
    else if (step) gestures.onNudge(name, step[0] * times, step[1] * times);
    else return;
    event.preventDefault();
  });
}

/**
 * Two fingers move and scale the paper.
 * @param {Map<number, Pixel>} fingers
 * @param {number} id
 * @param {Pixel} at
 * @param {Gestures} gestures
 */
function pinch(fingers, id, at, gestures) {
  const [other] = [...fingers].filter(([each]) => each !== id).map(([, place]) => place);
  const before = /** @type {Pixel} */ (fingers.get(id));
  const apart = Math.hypot(before[0] - other[0], before[1] - other[1]);
  const now = Math.hypot(at[0] - other[0], at[1] - other[1]);
  gestures.onPan((at[0] - before[0]) / 2, (at[1] - before[1]) / 2);
  if (apart > 10 && now > 10) gestures.onZoom([(at[0] + other[0]) / 2, (at[1] + other[1]) / 2], now / apart);
  fingers.set(id, at);
}

/** Moves between frames that follow faster than this are not listened to, ms. */
const BETWEEN_MS = 5;

/** Handles nearer than this lie over one another, pixels. */
const OVER_ONE_ANOTHER = 4;

/** @type {Record<string, [number, number]>} */
const STEPS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

/** @param {EventTarget|null} target */
function handleOf(target) {
  return target instanceof Element ? (target.closest("[data-handle]")?.getAttribute("data-handle") ?? null) : null;
}

/** The construction line or point that something is. @param {EventTarget|null} target @returns {number|null} */
function constructionOf(target) {
  const found = target instanceof Element ? target.closest("[data-construction]") : null;
  return found ? Number(found.getAttribute("data-construction")) : null;
}

/** The outline drawn by hand that something is. @param {EventTarget|null} target @returns {number|null} */
function outlineOf(target) {
  const found = target instanceof Element ? target.closest("[data-outline]") : null;
  return found ? Number(found.getAttribute("data-outline")) : null;
}

/** The held dimension that something belongs to. @param {EventTarget|null} target @returns {number|null} */
function dimensionOf(target) {
  const found = target instanceof Element ? target.closest("[data-dimension]") : null;
  return found ? Number(found.getAttribute("data-dimension")) : null;
}

/**
 * The handle a pointer means: the nearest, or the picked one where it lies over that.
 * @param {import("./sheet.js").Sheet} sheet
 * @param {Pixel} at
 * @param {Gestures} gestures
 */
function meant(sheet, at, gestures) {
  const [nearest] = within(sheet, at, gestures);
  if (!nearest || gestures.several()) return nearest ?? null;
  return stackAt(sheet, nearest, gestures).find((each) => each === gestures.picked()) ?? nearest;
}

/**
 * The handles that lie over one another where one is.
 * @param {import("./sheet.js").Sheet} sheet
 * @param {string} name
 * @param {Gestures} gestures
 */
function stackAt(sheet, name, gestures) {
  const [x, y] = gestures.whereIs(name);
  return within(sheet, [x, y], gestures).filter((each) => {
    const [px, py] = gestures.whereIs(each);
    return Math.hypot(px - x, py - y) < OVER_ONE_ANOTHER;
  });
}

/**
 * A second tap on joints that lie over one another picks the next beneath.
 * @param {import("./sheet.js").Sheet} sheet
 * @param {string} name picked
 * @param {Gestures} gestures
 */
function beneath(sheet, name, gestures) {
  const stack = stackAt(sheet, name, gestures).sort();
  if (stack.length < 2) return;
  const next = stack[(stack.indexOf(name) + 1) % stack.length];
  gestures.onPick(next, false);
  /** @type {SVGElement|null} */ (sheet.svg.querySelector(`[data-handle="${CSS.escape(next)}"]`))?.focus({
    preventScroll: true,
  });
}

/**
 * The handles a pointer may mean, nearest first; of those at one place the one drawn first.
 * @param {import("./sheet.js").Sheet} sheet
 * @param {Pixel} at
 * @param {Gestures} gestures
 * @returns {string[]}
 */
function within(sheet, at, gestures) {
  return [...sheet.svg.querySelectorAll("[data-handle]")]
    .map((element) => element.getAttribute("data-handle") ?? "")
    .map((name) => {
      const [x, y] = gestures.whereIs(name);
      return { name, away: Math.hypot(x - at[0], y - at[1]) };
    })
    .filter(({ away }) => away <= targetRadius())
    .sort((a, b) => a.away - b.away)
    .map(({ name }) => name);
}
