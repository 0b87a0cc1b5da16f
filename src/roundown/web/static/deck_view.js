// How a deck lies on its drawing, read from the drawing's attributes: the same from place to point and back as on the server.

export const FOOT = 0.3048; // m
const BESIDE = 10; // ft that wheels may be moved over the edge, where they stand wrong

/** @typedef {{ahead: number, port: number}} Place ahead of the ramp and to port of the centre line */

export class DeckView {
  /** @param {SVGSVGElement} drawing */
  constructor(drawing) {
    const { perMetre, cuts, starts, bowUp, halfWidth } = drawing.dataset;
    this.perMetre = Number(perMetre);
    /** Ends of the strips from bow to ramp [m]. @type {number[]} */
    this.cuts = JSON.parse(cuts ?? "[]");
    /** Fore end of each strip on the sheet. @type {[number, number][]} */
    this.starts = JSON.parse(starts ?? "[]");
    this.bowUp = bowUp === "yes";
    this.halfWidth = Number(halfWidth);
  }

  /** A place in feet, not further off the deck than can be seen. @param {Place} place [m] @param {number} parts of a foot @returns {Place} [ft] */
  inFeet({ ahead, port }, parts = 1) {
    const most = Math.floor(this.halfWidth / FOOT) + BESIDE;
    return {
      ahead: Math.min(Math.max(Math.round((parts * ahead) / FOOT) / parts, 0), Math.floor(this.cuts[0] / FOOT)),
      port: Math.min(Math.max(Math.round((parts * port) / FOOT) / parts, -most), most) + 0, // no negative nought
    };
  }

  /** The strip a place is drawn in. @param {number} ahead [m] */
  strip(ahead) {
    let found = 0;
    for (let i = 1; i < this.cuts.length - 1; i++) if (ahead < this.cuts[i]) found = i;
    return found;
  }

  /** Where a place [m] comes on the sheet. @param {Place} place @returns {[number, number]} */
  onSheet({ ahead, port }) {
    const strip = this.strip(ahead);
    const aft = (this.cuts[strip] - ahead) * this.perMetre;
    const [x, y] = this.starts[strip];
    return this.bowUp ? [x - port * this.perMetre, y + aft] : [x + aft, y + port * this.perMetre];
  }

  /** The place [m] under a point of the sheet; between strips that of the nearest one. @param {number} x @param {number} y @returns {Place} */
  onDeck(x, y) {
    let best = { off: Infinity, ahead: 0, port: 0 };
    this.starts.forEach(([left, top], strip) => {
      const across = (x - left) / this.perMetre;
      const down = (y - top) / this.perMetre;
      const ahead = this.cuts[strip] - (this.bowUp ? down : across);
      const port = this.bowUp ? -across : down;
      const off = Math.abs(port) + Math.max(ahead - this.cuts[strip], this.cuts[strip + 1] - ahead, 0);
      if (off < best.off) best = { off, ahead, port };
    });
    return { ahead: best.ahead, port: best.port };
  }
}

/** A place [ft] in words. @param {Place} place */
export const inWords = ({ ahead, port }) =>
  `${ahead} ft ahead, ${port ? `${Math.abs(port)} ft to ${port > 0 ? "port" : "starboard"}` : "on the centre line"}`;
