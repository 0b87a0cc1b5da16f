// Where the aeroplane is: on plan and elevation by the scales on the drawings' roots, and in time on a clock's edge.

import { INK } from "./sight_canvas.js";

/** @typedef {import("./sight.js").Instant} Instant */

const RING = { r: "5.5", fill: "#fff", stroke: INK, "stroke-width": "2.2" }; // small: it stands beside the words, not on them
const NOSE = { d: "M-4.5-9 0-21 4.5-9Z", fill: INK };
// of what is drawn, from a drawing: its address need not stand in a page that needs nothing from outside
const SVG = new DOMParser().parseFromString("<svg></svg>", "text/html").body.firstElementChild.namespaceURI;
export const STEP = 0.1; // s, the least the time is moved by
const KEYS = { ArrowDown: STEP, ArrowRight: STEP, ArrowUp: -STEP, ArrowLeft: -STEP, PageDown: 1, PageUp: -1 }; // s
const TICKS = 10; // s from one to the next
const [BAR, ACROSS] = [14, 23]; // of the edge, and of it with the leaders beside it; as the widths in page.css
const APART = 1.2; // of its own height, from the middle of one text to the next

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

/** @param {string} tag @param {Record<string, string>} attributes @param {(Node | string)[]} children @returns {any} */
export function make(tag, attributes = {}, ...children) {
  return filled(document.createElement(tag), attributes, children);
}

/** @param {string} tag @param {Record<string, string>} attributes @param {Node[]} children @returns {any} */
function drawn(tag, attributes, ...children) {
  return filled(document.createElementNS(SVG, tag), attributes, children);
}

/** @param {Element} made @param {Record<string, string>} attributes @param {(Node | string)[]} children */
function filled(made, attributes, children) {
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  made.append(...children);
  return made;
}

/** @param {number} value @param {number} decimals */
export const fixed = (value, decimals) =>
  value.toLocaleString("en-GB", { minimumFractionDigits: decimals, maximumFractionDigits: decimals });

/** A time from the break as the edge has it. @param {number} time @param {number} decimals */
const clocked = (time, decimals) => `${fixed(time, decimals).replace("-", "−")} s`;

/**
 * Places in order, none nearer than the pitch to the next, the last not past the foot.
 * @param {number[]} wanted in order @param {number} pitch @param {number} foot
 */
function apart(wanted, pitch, foot) {
  const places = [...wanted];
  for (let i = 1; i < places.length; i++) places[i] = Math.max(places[i], places[i - 1] + pitch);
  for (let i = places.length - 1, most = foot; i >= 0; i--, most -= pitch) places[i] = Math.min(places[i], most);
  return places;
}

/** The aeroplane on the plan, by the scale on the drawing's root: a ring, and the way its nose points. */
export class PlanMark {
  /** @param {SVGSVGElement} drawing */
  constructor(drawing) {
    this.drawing = drawing;
    drawing.setAttribute("aria-label", "Plan of the circuit with the aeroplane where it is at the time shown");
    this.mark = drawn("g", { class: "sight-mark" }, drawn("circle", RING), drawn("path", NOSE));
    drawing.append(this.mark);
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
    this.mark = drawn("circle", { ...RING, class: "sight-mark" });
    drawing.append(this.mark);
  }

  /** Whether it is on the drawing. @param {Instant} at */
  put({ time, height }) {
    const { left, perSecond, foot, perMetre } = this.drawing.dataset;
    this.mark.setAttribute("cx", String(Number(left) + time * Number(perSecond)));
    this.mark.setAttribute("cy", String(Number(foot) - height * Number(perMetre)));
    this.mark.setAttribute("visibility", time < 0 ? "hidden" : "visible");
    return time >= 0;
  }
}

/** The time down the side, as on the day's clock: a rule at the instant shown, and the gates beside their times. */
export class ClockEdge {
  height = 0; // px, of the ruler
  line = 0; // px, of the time beside the rule

  /** @param {Record<string, string>} words for the gates @param {(time: number, aloud: boolean) => void} go */
  constructor(words, go) {
    this.words = words;
    this.slider = make("input", { type: "range", id: "sight-time", step: String(STEP), "aria-orientation": "vertical" });
    this.ticks = make("div", { class: "sight-ticks", "aria-hidden": "true" });
    this.now = make("span", { class: "sight-now", "aria-hidden": "true" });
    this.leaders = drawn("svg", { preserveAspectRatio: "none", "aria-hidden": "true" });
    this.gates = make("div", { class: "sight-gates", role: "group", "aria-label": "Go to a gate" });
    this.ruler = make("div", { class: "sight-ruler" }, this.ticks, this.now, this.leaders, this.slider, this.gates);
    this.element = make("div", { class: "sight-edge" }, make("label", { for: "sight-time" }, "Time from the break"), this.ruler);
    this.slider.addEventListener("input", () => go(Number(this.slider.value), false));
    this.slider.addEventListener("keydown", (/** @type {KeyboardEvent} */ event) => {
      if (!(event.key in KEYS) || event.altKey || event.ctrlKey || event.metaKey) return;
      event.preventDefault();
      go(Number(this.slider.value) + KEYS[event.key], false);
    });
    this.gates.addEventListener("click", (/** @type {MouseEvent} */ event) => {
      const button = event.target instanceof Element && event.target.closest("button");
      if (button) go(this.times[button.dataset.gate], true);
    });
    new ResizeObserver(() => this.lay()).observe(this.ruler);
  }

  /** @param {Record<string, number>} times of the gates @param {number} first @param {number} last time on the edge */
  show(times, first, last) {
    this.times = times;
    this.first = Math.ceil(first / STEP) * STEP;
    this.last = Math.floor(last / STEP) * STEP;
    this.slider.min = this.first.toFixed(1);
    this.slider.max = this.last.toFixed(1);
    const names = Object.keys(this.words).filter((name) => name in times).sort((a, b) => times[a] - times[b]);
    this.gates.replaceChildren(...names.map((name) => make(
      "button", { type: "button", "data-gate": name },
      make("span", { class: "sight-at" }, clocked(times[name], 1)), " ", this.words[name],
    )));
    this.ticks.replaceChildren();
    for (let time = Math.ceil(this.first / TICKS) * TICKS; time <= this.last; time += TICKS) {
      this.ticks.append(make("span", { "data-time": String(time) }));
    }
    this.lay();
  }

  /** Down the ruler [px]. @param {number} time */
  down(time) {
    const part = (time - this.first) / (this.last - this.first);
    return this.height * Math.min(1, Math.max(0, part));
  }

  /** Puts ticks and gates where the ruler's height has them. */
  lay() {
    const height = this.height = this.ruler.clientHeight; // px, measured here and not at each picture
    if (!height) return;
    this.now.textContent = clocked(this.first, 1);
    this.line = this.now.offsetHeight; // px
    for (const tick of this.ticks.children) tick.style.top = `${this.down(Number(tick.dataset.time))}px`;
    const buttons = [...this.gates.children];
    const wanted = buttons.map((button) => this.down(this.times[button.dataset.gate]));
    const places = apart(wanted, APART * (buttons[0]?.offsetHeight ?? 0), height);
    buttons.forEach((button, i) => { button.style.top = `${places[i]}px`; });
    this.leaders.setAttribute("viewBox", `0 0 ${ACROSS} ${height}`);
    this.leaders.replaceChildren(...places.map((place, i) => {
      const points = `0,${wanted[i]} ${BAR},${wanted[i]} ${ACROSS},${place}`;
      return drawn("polyline", { points, fill: "none", stroke: INK, "vector-effect": "non-scaling-stroke" });
    }));
    this.put(this.time ?? this.first);
  }

  /** Puts the rule at a time; a tick that it would cover says nothing. @param {number} time */
  put(time) {
    this.time = time;
    this.slider.value = String(time);
    this.now.textContent = clocked(time, 1);
    this.now.style.top = `${this.down(time)}px`;
    for (const tick of this.ticks.children) {
      const there = Number(tick.dataset.time);
      const words = Math.abs(this.down(there) - this.down(time)) < this.line ? "" : clocked(there, 0);
      if (tick.textContent !== words) tick.textContent = words;
    }
  }
}
