// Moving an outline over the deck with mouse, finger or arrow keys. It is pinned where it is let go.

import { seatOf } from "./deck.js";
import { DeckView, FOOT, inWords } from "./deck_view.js";

/** @typedef {import("./deck_view.js").Place} Place */

const STIRRED = 3; // pixels a pointer goes before it moves what it holds
const SETTLED = 400; // ms after the last arrow key before the place is pinned
/** Keys that choose another in launch order. @type {Map<string, (now: number, last: number) => number>} */
const TURNS = new Map([
  ["PageDown", (now) => now + 1],
  ["PageUp", (now) => now - 1],
  ["Home", () => 0],
  ["End", (_, last) => last],
]);
const NAMES = "http://www.w3.org/2000/svg";

export class DeckMoves {
  /** Under way. @type {{seat: string, place: Place, pointer: number | null, grip: Place, from: [number, number], stirred: boolean} | null} */
  move = null;
  settling = 0;
  /** Let go and not solved yet: places by seat [ft]. @type {Map<string, Place>} */
  sent = new Map();

  /** @param {import("./deck.js").Deck} deck */
  constructor(deck) {
    this.deck = deck;
    const { sheet } = deck;
    const still = (/** @type {TouchEvent} */ event) => { if (seatOf(event.target)) event.preventDefault(); };
    sheet.addEventListener("touchstart", still, { passive: false }); // a finger on an aeroplane does not scroll the page
    sheet.addEventListener("pointerdown", (event) => this.taken(event));
    sheet.addEventListener("pointermove", (event) => this.pulled(event));
    sheet.addEventListener("pointerup", (event) => this.letGo(event));
    sheet.addEventListener("pointercancel", () => this.putBack());
    sheet.addEventListener("keydown", (event) => this.pressed(event));
    document.addEventListener("keydown", (event) => {
      if (event.key === "Escape" && this.move) this.gaveUp();
    });
  }

  /** The open load's drawing, and how the deck lies on it. @returns {{drawing: SVGSVGElement, view: DeckView} | null} */
  get drawn() {
    const drawing = this.deck.open?.querySelector("svg");
    return drawing ? { drawing, view: new DeckView(drawing) } : null;
  }

  /** Whether a pointer holds one. */
  get held() {
    return this.move !== null && this.move.pointer !== null;
  }

  /** Where an outline stands, moved or not [ft]. @param {string} seat @param {number} parts of a foot @returns {Place | null} */
  standing(seat, parts = 1) {
    const outline = this.deck.outline(seat);
    const drawn = this.drawn;
    if (!outline || !drawn) return null;
    if (this.move?.seat === seat) return this.move.place;
    return this.sent.get(seat) ?? drawn.view.inFeet(placeOf(outline), parts);
  }

  /** The place on deck under a pointer [m]. @param {PointerEvent} event @returns {Place} */
  under(event) {
    const drawn = this.drawn;
    const turn = drawn?.drawing.getScreenCTM()?.inverse();
    if (!drawn || !turn) return { ahead: 0, port: 0 };
    const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(turn);
    return drawn.view.onDeck(point.x, point.y);
  }

  /** @param {PointerEvent} event */
  taken(event) {
    const seat = seatOf(event.target);
    const outline = this.deck.outline(seat);
    const place = this.standing(seat);
    if (event.button || !outline || !place || this.held) return;
    this.settle();
    const under = this.under(event);
    const stands = this.sent.has(seat) ? inMetres(place) : placeOf(outline);
    const grip = { ahead: under.ahead - stands.ahead, port: under.port - stands.port };
    this.move = { seat, place, pointer: event.pointerId, grip, from: [event.clientX, event.clientY], stirred: false };
    this.deck.sheet.setPointerCapture(event.pointerId);
    outline.focus({ preventScroll: true });
  }

  /** @param {PointerEvent} event */
  pulled(event) {
    const { move, drawn } = this;
    if (!move || !drawn || move.pointer !== event.pointerId) return;
    const [x, y] = move.from;
    move.stirred ||= Math.hypot(event.clientX - x, event.clientY - y) >= STIRRED;
    if (!move.stirred) return;
    const under = this.under(event);
    move.place = drawn.view.inFeet({ ahead: under.ahead - move.grip.ahead, port: under.port - move.grip.port });
    this.draw();
  }

  /** @param {PointerEvent} event */
  letGo(event) {
    if (this.move?.pointer !== event.pointerId) return;
    if (this.move.stirred) this.settle();
    else this.move = null;
  }

  /** @param {KeyboardEvent} event */
  pressed(event) {
    const seat = seatOf(event.target);
    const drawn = this.drawn;
    if (!seat || !drawn || event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.key === "Delete" || event.key === "Backspace") this.deck.free();
    else if (event.key === "Enter" || event.key === " ") this.deck.pinHere();
    else if (TURNS.has(event.key)) this.turn(seat, event.key);
    else {
      const step = stepOf(event.key, drawn.view.bowUp);
      const place = this.standing(seat);
      if (!step || !place || this.held) return;
      const feet = event.shiftKey ? 10 : 1;
      const wanted = inMetres({ ahead: place.ahead + feet * step.ahead, port: place.port + feet * step.port });
      const grip = { ahead: 0, port: 0 };
      this.move = { seat, place: drawn.view.inFeet(wanted), pointer: null, grip, from: [0, 0], stirred: true };
      this.draw();
      clearTimeout(this.settling);
      this.settling = setTimeout(() => this.settle(), SETTLED);
    }
    event.preventDefault();
  }

  /** Gives the keyboard to another in launch order. @param {string} seat that has it @param {string} key */
  turn(seat, key) {
    if (this.held) return;
    this.settle();
    const { placed } = this.deck;
    const last = placed.length - 1;
    const wanted = TURNS.get(key)?.(placed.indexOf(seat), last) ?? 0;
    this.deck.outline(placed[Math.min(Math.max(wanted, 0), last)])?.focus();
  }

  /** Pins what was moved where it is now. */
  settle() {
    clearTimeout(this.settling);
    const { move } = this;
    this.move = null;
    if (!move) return;
    this.sent.set(move.seat, move.place);
    this.deck.choose(move.seat);
    this.deck.tell(move.place);
    this.deck.pin(move.place);
  }

  gaveUp() {
    this.putBack();
    this.deck.say("Put back.");
  }

  /** Everything back to where the drawing has it. */
  putBack() {
    clearTimeout(this.settling);
    this.move = null;
    this.sent.clear();
    for (const each of this.deck.sheet.querySelectorAll(".parked[transform]")) each.removeAttribute("transform");
    for (const each of this.deck.sheet.querySelectorAll(".going")) each.remove();
    this.deck.tell();
  }

  /** The sheet was drawn anew: what is being moved goes on being moved. @param {boolean} solved with all that was sent */
  drawnAnew(solved) {
    if (solved) this.sent.clear();
    for (const [seat, place] of this.sent) this.shift(seat, place);
    if (this.move && !this.deck.outline(this.move.seat)) this.putBack();
    else if (this.move?.stirred) this.draw();
  }

  /** Draws an outline of the open load at another place. @param {string} seat @param {Place} place [ft] @returns {DOMRect | null} its new room */
  shift(seat, place) {
    const outline = this.deck.outline(seat);
    const view = this.drawn?.view;
    if (!outline || !view) return null;
    const [x, y] = view.onSheet(placeOf(outline));
    const [toX, toY] = view.onSheet(inMetres(place));
    outline.setAttribute("transform", `translate(${toX - x} ${toY - y})`);
    const box = outline.getBBox();
    return new DOMRect(box.x + toX - x, box.y + toY - y, box.width, box.height);
  }

  /** Draws what is being moved, with its place in words beside it. */
  draw() {
    const { move, drawn } = this;
    const room = move && this.shift(move.seat, move.place);
    if (!move || !drawn || !room) return;
    const { drawing } = drawn;
    const words = drawing.querySelector(".going") ?? drawing.appendChild(document.createElementNS(NAMES, "text"));
    const size = Number(drawing.dataset.text);
    const { y, width } = drawing.viewBox.baseVal;
    const middle = Math.min(Math.max(room.x + room.width / 2, 8 * size), width - 8 * size);
    const above = room.y - 0.4 * size;
    words.setAttribute("class", "going");
    words.setAttribute("font-size", String(size));
    words.setAttribute("text-anchor", "middle");
    words.setAttribute("x", String(middle));
    words.setAttribute("y", String(above < y + size ? room.bottom + size : above));
    words.textContent = inWords(move.place);
    this.deck.tell(move.place);
  }
}

/** @param {Place} place [ft] @returns {Place} [m] */
const inMetres = ({ ahead, port }) => ({ ahead: ahead * FOOT, port: port * FOOT });

/** Where the drawing has an outline [m]. @param {SVGGElement} outline @returns {Place} */
const placeOf = (outline) => ({ ahead: Number(outline.dataset.ahead), port: Number(outline.dataset.port) });

/** The way an arrow key goes on deck, as it is seen. @param {string} key @param {boolean} bowUp @returns {Place | null} */
function stepOf(key, bowUp) {
  const ways = bowUp
    ? { ArrowUp: [1, 0], ArrowDown: [-1, 0], ArrowLeft: [0, 1], ArrowRight: [0, -1] }
    : { ArrowLeft: [1, 0], ArrowRight: [-1, 0], ArrowDown: [0, 1], ArrowUp: [0, -1] };
  const found = new Map(Object.entries(ways)).get(key);
  return found ? { ahead: found[0], port: found[1] } : null;
}
