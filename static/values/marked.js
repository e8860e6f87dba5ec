/**
 * Characters that are none to look at, shown as a mark: as the server reads a note.
 * @module values/marked
 */

// eslint-disable-next-line no-control-regex -- these are what is looked for
const UNSEEN = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069\ufffe\uffff]/g;

/** @param {string} words */
export function marked(words) {
  return words.replace(UNSEEN, "\ufffd");
}
