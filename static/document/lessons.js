/**
 * Changes to a lesson: each takes one and returns another.
 * @module document/lessons
 */

/** What takes the wall, by name and words. @type {[LessonStep["view"], string][]} */
export const VIEWS = [
  ["ratio", "coupling"],
  ["lever", "lever"],
  ["play", "play"],
  ["oil", "oil"],
  ["error", "error"],
  ["turns", "ends in turn"],
  ["numbers", "four numbers"],
  ["budget", "budget"],
  ["dial", "load test"],
  ["working", "working"],
  ["plane", "stroke plane"],
  ["run", "run"],
];

/** What moves on the drawing. @type {[string, string][]} */
export const MOVES = [
  ["", "nothing moves"],
  ["stroke", "the cylinder works to and fro"],
  ["slop", "the play swings the blade"],
  ["in turn", "an end is corrected, one cylinder after the other"],
  ["together", "an end is corrected, cylinders together"],
];

/** @type {[string, string][]} */
export const REVEALS = [
  ["line by line", "line by line"],
  ["at once", "at once"],
];

/** A lesson to begin with. @param {LessonStep} step @returns {Lesson} */
export function newLesson(step) {
  return { format: 1, title: "New lesson", note: "", steps: [step] };
}

/** @param {Lesson} lesson @param {number} at where it stands then @param {LessonStep} step @returns {Lesson} */
export function withStep(lesson, at, step) {
  return { ...lesson, steps: [...lesson.steps.slice(0, at), step, ...lesson.steps.slice(at)] };
}

/** @param {Lesson} lesson @param {number} at @returns {Lesson} */
export function withoutStep(lesson, at) {
  return { ...lesson, steps: lesson.steps.filter((_, index) => index !== at) };
}

/**
 * A step so many places on.
 * @param {Lesson} lesson @param {number} at @param {number} by @returns {Lesson}
 */
export function withStepMoved(lesson, at, by) {
  const step = lesson.steps[at];
  return withStep(withoutStep(lesson, at), Math.min(Math.max(at + by, 0), lesson.steps.length - 1), step);
}

/** @param {Lesson} lesson @param {number} at @param {Partial<LessonStep>} change @returns {Lesson} */
export function withStepChanged(lesson, at, change) {
  return { ...lesson, steps: lesson.steps.map((step, index) => (index === at ? { ...step, ...change } : step)) };
}

/**
 * What a field of a step comes to: another mount has other cylinders.
 * @param {string} field @param {string} value as chosen or typed @returns {Partial<LessonStep>}
 */
export function fieldOf(field, value) {
  if (field === "minutes") return { minutes: Number(value.replace(",", ".")) };
  if (field === "mount") return { mount: value, in_inches: null, command: {}, cylinder: null };
  return { [field]: value === "" && field !== "say" ? null : value };
}
