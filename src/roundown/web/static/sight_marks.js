// Where the aeroplane is on plan and elevation, by the scales on the drawings' roots.

import { INK } from "./sight_canvas.js";

/** @typedef {import("./sight.js").Instant} Instant */

const AEROPLANE = "M0-17 2.5-9 3-4 17 0 17 4 3 4.5 2 12 7 14 7 17-7 17-7 14-2 12-3 4.5-17 4-17 0-3-4-2.5-9Z";

/**
 * A drawing to put a mark on: from its text, or where that is empty a copy of the one on the page.
 * @param {string} text @param {string} kind "plan" or "elevation"
 */
export function copied(text, kind) {
  const found = text ? document.createElement("div") : document.querySelector(`svg[data-drawing=${kind}]`);
  if (text) found.innerHTML = text; // drawn by our own server, every text in it escaped
  const drawing = /** @type {SVGSVGElement} */ ((text ? found.firstElementChild : found).cloneNode(true));
  drawing.removeAttribute("aria-labelledby");
  drawing.removeAttribute("data-drawing");
  drawing.querySelectorAll(":scope > title, :scope > desc").forEach((each) => each.remove());
  return drawing;
}

/** @param {SVGSVGElement} drawing @param {string} tag @param {Record<string, string>} attributes */
function inked(drawing, tag, attributes) {
  const made = document.createElementNS(drawing.namespaceURI, tag);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  made.setAttribute("class", "sight-mark");
  drawing.append(made);
  return made;
}

/** The aeroplane on the plan, by the scale on the drawing's root. */
export class PlanMark {
  /** @param {SVGSVGElement} drawing */
  constructor(drawing) {
    this.drawing = drawing;
    drawing.setAttribute("aria-label", "Plan of the circuit with the aeroplane where it is at the time shown");
    const halo = { stroke: "#fff", "stroke-width": "2.5", "paint-order": "stroke" };
    this.mark = inked(drawing, "path", { d: AEROPLANE, fill: INK, ...halo });
  }

  /** @param {Instant} at */
  put({ ahead, port, heading }) {
    const { perMetre, rampX, rampY } = this.drawing.dataset;
    const [x, y] = [Number(rampX) - port * Number(perMetre), Number(rampY) - ahead * Number(perMetre)];
    const turn = Number.isFinite(heading) ? (heading * 180) / Math.PI : 0;
    this.mark.setAttribute("transform", `translate(${x} ${y}) rotate(${turn})`);
  }
}

/** The aeroplane on the elevation; it has no place there before the break. */
export class ElevationMark {
  /** @param {SVGSVGElement} drawing */
  constructor(drawing) {
    this.drawing = drawing;
    drawing.setAttribute("aria-label", "Elevation of the circuit with the aeroplane where it is at the time shown");
    const { top, foot } = drawing.dataset;
    this.line = inked(drawing, "line", { stroke: INK, "stroke-width": "1", y1: top ?? "0", y2: foot ?? "0" });
    this.mark = inked(drawing, "circle", { r: "7", fill: INK, stroke: "#fff", "stroke-width": "2" });
  }

  /** Whether it is on the drawing. @param {Instant} at */
  put({ time, height }) {
    const { left, perSecond, foot, perMetre } = this.drawing.dataset;
    const [x, y] = [Number(left) + time * Number(perSecond), Number(foot) - height * Number(perMetre)];
    this.mark.setAttribute("cx", String(x));
    this.mark.setAttribute("cy", String(y));
    this.line.setAttribute("x1", String(x));
    this.line.setAttribute("x2", String(x));
    for (const each of [this.line, this.mark]) each.setAttribute("visibility", time < 0 ? "hidden" : "visible");
    return time >= 0;
  }
}
