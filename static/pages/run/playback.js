/**
 * The clock of the page: where in the run it stands, and how fast it goes on.
 * @module pages/run/playback
 */

export class Playback {
  /** @param {() => void} tick told when it stands elsewhere */
  constructor(tick) {
    this.tick = tick;
    /** s */
    this.time = 0;
    /** Seconds that are there to be played. */
    this.there = 0;
    /** Whether more is coming than is there. */
    this.more = false;
    this.playing = false;
    this.pace = 1;
    this.before = 0;
  }

  /** @param {number} time s */
  seek(time) {
    this.time = Math.min(Math.max(time, 0), this.there);
    this.tick();
  }

  /** Play from the beginning what is about to come. */
  again() {
    this.time = 0;
    this.there = 0;
    this.more = true;
    this.play(true);
  }

  /** @param {boolean} playing */
  play(playing) {
    if (playing && !this.more && this.time >= this.there - 1e-6) this.time = 0;
    const was = this.playing;
    this.playing = playing;
    if (playing && !was) {
      this.before = performance.now();
      requestAnimationFrame((now) => this.step(now));
    }
    this.tick();
  }

  /** @param {number} now ms */
  step(now) {
    if (!this.playing) return;
    this.time += (this.pace * Math.max(now - this.before, 0)) / 1000;
    this.before = now;
    if (this.time >= this.there) {
      this.time = this.there;
      this.playing = this.more;
    }
    if (this.playing) requestAnimationFrame((next) => this.step(next));
    this.tick();
  }
}
