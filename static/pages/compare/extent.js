/**
 * Every point of a mount that a drawing of it must show.
 * @module pages/compare/extent
 */

/** @param {Mount} mount @returns {[number, number][]} mm */
export function pointsOf(mount) {
  const ends = mount.members.flatMap((member) => (member.ends ? member.ends.map((end) => end.at) : [member.at]));
  return [
    mount.blade.left,
    mount.blade.right,
    ...ends,
    ...(mount.sensors ? [mount.sensors.left, mount.sensors.right] : []),
  ];
}
