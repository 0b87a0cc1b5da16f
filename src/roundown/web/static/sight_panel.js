// One time that moves the pilot's view, the signal officer's, plan and elevation together.

import { axes, hiddenBy, instant, officersPicture, pilotsEye, pilotsPicture, sightLine, within } from "./sight.js";
import { paint } from "./sight_canvas.js";
import { ClockEdge, copied, ElevationMark, fixed, make, PlanMark, STEP } from "./sight_marks.js";

/** @typedef {import("./sight.js").Data} Data */
/** @typedef {import("./sight.js").Instant} Instant */
/** @typedef {import("./sight.js").Picture} Picture */
/** @typedef {{whose: string, reason: string, data: Data | null, plan: string, elevation: string}} View of one type on one
 *   carrier; without data the reason why; without plan and elevation those that stand on the page are copied */

const FOOT = 0.3048; // m
const TO_DEGREES = 180 / Math.PI;
const BENEATH = 30; // m, nearer than which the ramp is under the aeroplane and has no place off its nose
const NAMED = 60; // m, farther than which the ramp has its name beside it: nearer it stands on nose and deck
const AT_GATE = STEP / 2; // s from a gate within which one is at it
const LONGEST = 0.25; // s that one frame moves the time at most: a page out of sight stands still
const GATES = {
  initial: ["initial", "at the initial"], break: ["break", "at the break"], downwind: ["roll-out", "at the roll-out"],
  "turn-in": ["turn-in", "at the turn-in"], ninety: ["ninety", "at the ninety"], ramp: ["ramp", "over the ramp"],
  cut: ["cut", "at the cut"],
};
const LEGS = {
  initial: "on the upwind leg", break: "in the break", downwind: "on the downwind leg", "turn-in": "in the final turn",
  ramp: "over the deck",
};

/** An angle [rad] with its way. @param {number} angle @param {string} negative @param {string} positive */
function turned(angle, negative, positive) {
  const degrees = fixed(Math.abs(angle) * TO_DEGREES, 0);
  return degrees === "0" ? "" : `${degrees} deg ${angle < 0 ? negative : positive}`;
}

/** @param {number} metres */
const overSea = (metres) => `${fixed(metres / FOOT, 0)} ft over the sea`;

/** @param {number} time */
const fromBreak = (time) => `${fixed(Math.abs(time), 1)} s ${time < -AT_GATE ? "before" : "after"} the break`;

/** Where in the circuit one is. @param {Data} data @param {number} time */
function whereabouts(data, time) {
  let leg = LEGS.initial;
  for (const [name, when] of Object.entries(data.gates)) {
    if (Math.abs(time - when) < AT_GATE && name in GATES) return GATES[name][1];
    if (when <= time) leg = LEGS[name] ?? leg;
  }
  return leg;
}

/** The figures at an instant, by label. @param {Data} data @param {Instant} at */
function figures(data, at) {
  const line = sightLine(data, [0, 0, 0], pilotsEye(data, at));
  const [forward, port] = within(axes(at.heading, at.pitch, at.bank), line);
  const known = Number.isFinite(at.pitch);
  const aside = turned(Math.atan2(-port, forward), "to port", "to starboard") || "dead ahead";
  const off = Math.hypot(line[0], line[1]) < BENEATH ? "beneath" : aside;
  const by = known ? hiddenBy(data, at, [0, 0, 0]) : "";
  return {
    Time: fromBreak(at.time),
    "Height of the wheels": overSea(at.height),
    Bank: turned(at.bank, "left", "right") || "wings level",
    "Ramp off the nose": known ? off : "not known",
    "Ramp hidden": !known ? "not known" : by ? `yes, by the ${by}` : "no",
  };
}

export class SightPanel {
  /** @type {number | null} */
  time = null;
  /** @type {View[]} */
  views = [];
  /** @type {Data | null} */
  data = null;
  running = 0; // number of the frame asked for, 0 while it stands
  last = 0; // ms, of the frame before

  /** @param {HTMLElement} place */
  constructor(place) {
    this.place = place;
    this.whose = make("select", { id: "sight-whose" });
    const label = make("label", { for: "sight-whose" }, "Type and carrier");
    this.chooser = make("p", { class: "sight-chooser" }, label, " ", this.whose);
    this.reason = make("p", { class: "sight-none" });
    const words = Object.fromEntries(Object.entries(GATES).map(([name, [word]]) => [name, word]));
    this.edge = new ClockEdge(words, (time, aloud) => this.go(time, aloud));
    this.run = make("button", { type: "button", class: "sight-run" });
    this.edge.element.append(this.run);
    this.said = make("p", { class: "heard", role: "status" });
    this.pilot = new Shown("Pilot’s view");
    this.officer = new Shown("Signal officer’s view");
    this.plan = make("div", { class: "sight-drawing" });
    this.elevation = make("div", { class: "sight-drawing" });
    this.off = make("p", { class: "sight-caption" });
    this.figures = make("dl", { class: "sight-figures" });
    this.sheet = make(
      "div", { class: "sight-views" },
      this.pilot.figure, this.officer.figure,
      make("figure", { class: "sight-plan" }, make("figcaption", {}, "Plan, flight course up"), this.plan),
      make("figure", { class: "sight-elevation" }, make("figcaption", {}, "Elevation"), this.elevation, this.off),
      this.figures,
    );
    place.replaceChildren(this.chooser, this.reason, this.edge.element, this.sheet, this.said);
    this.listen();
    this.show([]);
  }

  listen() {
    this.whose.addEventListener("change", () => this.choose());
    this.run.addEventListener("click", () => {
      if (this.running) this.stop();
      else this.start();
      if (!this.running) this.tell(true);
    });
    new ResizeObserver(() => this.draw()).observe(this.pilot.canvas);
  }

  /** Puts views on the table; the time stays where it was. @param {View[]} views the day's own first */
  show(views) {
    const before = this.views[this.whose.selectedIndex]?.whose;
    this.views = views;
    this.whose.replaceChildren(...views.map((view) => make("option", {}, view.whose)));
    this.whose.selectedIndex = Math.max(0, views.findIndex((view) => view.whose === before));
    this.chooser.hidden = views.length < 2;
    this.choose();
  }

  choose() {
    const view = this.views[this.whose.selectedIndex];
    this.stop();
    this.said.textContent = "";
    this.data = view?.data ?? null;
    this.reason.textContent = view?.reason ?? "";
    this.reason.hidden = this.data !== null;
    this.edge.element.hidden = this.sheet.hidden = this.data === null;
    if (!this.data) return;
    const { gates, path } = this.data;
    this.first = path.time[0] ?? 0;
    this.end = path.time.at(-1) ?? 0;
    this.edge.show(gates, this.first, this.end);
    this.planView = new PlanMark(copied(view.plan, "plan"));
    this.plan.replaceChildren(this.planView.drawing);
    this.sideView = new ElevationMark(copied(view.elevation, "elevation"));
    this.elevation.replaceChildren(this.sideView.drawing);
    this.go(this.time ?? gates["turn-in"]);
  }

  /** @param {number} time @param {boolean} aloud whether it is read out where the edge does not do so */
  go(time, aloud = false) {
    this.time = Math.min(Math.max(time, this.first), this.end) + 0; // no negative nought
    this.draw();
    this.tell(aloud);
  }

  start() {
    if (this.time >= this.end) this.time = this.first;
    this.run.textContent = "Stop";
    this.last = 0;
    this.running = requestAnimationFrame((now) => this.frame(now));
  }

  stop() {
    cancelAnimationFrame(this.running);
    this.running = 0;
    this.run.textContent = "Run in real time";
  }

  /** @param {number} now [ms] */
  frame(now) {
    this.time = Math.min(this.end, this.time + (this.last ? Math.min(LONGEST, (now - this.last) / 1000) : 0));
    this.last = now;
    this.draw();
    if (this.time < this.end) {
      this.running = requestAnimationFrame((next) => this.frame(next));
    } else {
      this.stop();
      this.tell(true);
    }
  }

  /** Where one is, in words; not told at each frame. @param {boolean} aloud */
  tell(aloud) {
    if (!this.data) return;
    const words = `${fromBreak(this.time)}, ${whereabouts(this.data, this.time)}`;
    this.edge.slider.setAttribute("aria-valuetext", words);
    if (aloud) this.said.textContent = words;
    this.pilot.tell(words);
    this.officer.tell(words);
  }

  draw() {
    if (!this.data) return;
    const { data, time } = this;
    const at = instant(data, time);
    const named = Math.hypot(at.ahead, at.port) > NAMED;
    this.edge.put(time);
    this.pilot.draw(pilotsPicture(data, time), -data.hand, named, pilotsCaption(data));
    this.officer.draw(officersPicture(data, time), 1, named, officersCaption);
    this.planView?.put(at);
    const there = this.sideView?.put(at);
    this.off.textContent = there ? "" : "Before the break it is off this drawing.";
    const shown = figures(data, at);
    if (this.figures.childElementCount === 0) {
      this.figures.append(...Object.keys(shown).map((label) => make("div", {}, make("dt", {}, label), make("dd"))));
    }
    Object.values(shown).forEach((text, i) => { this.figures.children[i].lastElementChild.textContent = text; });
  }
}

/** @param {Data} data @returns {(picture: Picture) => string} */
const pilotsCaption = ({ deck_height: deck, ship }) => ({ azimuth, elevation, eyeHeight, cutAt }) => {
  const where = cutAt > deck + ship.mast_height ? "above all of her"
    : cutAt > deck + ship.island_height ? "at her mast" : cutAt > deck ? "at her island" : "below her deck";
  return `Eye ${overSea(eyeHeight)}, looking ${gaze(azimuth, elevation, "nose")}. The horizon is ${where}, ${overSea(cutAt)}.`;
};

/** @param {Picture} picture */
const officersCaption = ({ azimuth, elevation, width }) =>
  `Field of view ${fixed(width * TO_DEGREES, 0)} deg, looking ${gaze(azimuth, elevation, "bow")}.`;

/** @param {number} azimuth @param {number} elevation @param {string} datum */
function gaze(azimuth, elevation, datum) {
  const across = turned(azimuth, "to port", "to starboard");
  const upward = turned(elevation, "down", "up");
  return [across ? `${across} of the ${datum}` : "", upward].filter(Boolean).join(", ") || "straight ahead";
}

/** A view with its heading and caption. */
class Shown {
  /** @param {string} name */
  constructor(name) {
    this.name = name;
    this.canvas = make("canvas", { role: "img", width: "600", height: "432" });
    this.caption = make("p", { class: "sight-caption" });
    this.figure = make("figure", {}, make("figcaption", {}, name), this.canvas, this.caption);
  }

  /**
   * @param {Picture | null} picture @param {number} outside @param {boolean} named whether the ramp is
   * @param {(picture: Picture) => string} caption
   */
  draw(picture, outside, named, caption) {
    const width = Math.round(this.canvas.clientWidth * (window.devicePixelRatio || 1));
    if (!width) return;
    if (picture && this.canvas.width !== width) {
      this.canvas.width = width;
      this.canvas.height = Math.round((width * picture.half[1]) / picture.half[0]);
    }
    paint(this.canvas, picture, outside, named);
    this.caption.textContent = picture ? caption(picture) : "";
  }

  /** @param {string} when */
  tell(when) {
    this.canvas.setAttribute("aria-label", `${this.name}, ${when}. ${this.caption.textContent}`);
  }
}
