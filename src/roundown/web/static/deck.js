// The decks on the table: which load is looked at, which aeroplane is chosen, and the buttons that pin it, free it, pack again.

import { DeckMoves } from "./deck_moves.js";
import { inWords } from "./deck_view.js";
import { part } from "./show.js";

/** @typedef {import("./deck_view.js").Place} Place */
/** @typedef {{event: string, side: string, ahead?: number, port?: number}} Pin a place in whole feet; without one it is free */

export class Deck {
  /** Load and seat looked at, as the sheet names them. */
  load = "";
  seat = "";
  /** Seat whose new place is to be told when the day is solved. */
  awaited = "";
  /** Places that are being written into the text. */
  writing = 0;

  /**
   * @param {{pin: (pins: Pin[]) => Promise<string>, undo: (again: boolean) => void}} told
   *   pin : writes places into the text; comes back with what went wrong, "same" for a text that stays, "" for done
   */
  constructor(told) {
    this.told = told;
    this.sheet = part("sheet-deck");
    this.moves = new DeckMoves(this);
    this.sheet.addEventListener("focusin", (event) => this.choose(seatOf(event.target)));
    this.sheet.addEventListener("keydown", (event) => this.undone(event));
    part("deck-pin").addEventListener("click", () => this.pinHere());
    part("deck-free").addEventListener("click", () => this.free());
    part("deck-pack").addEventListener("click", () => this.pack());
    part("deck-loads").addEventListener("change", (event) => {
      if (event.target instanceof HTMLInputElement) this.look(event.target.value);
    });
  }

  /** The loads on the sheet. @returns {HTMLElement[]} */
  get loads() {
    return [...this.sheet.querySelectorAll(".load")].filter((each) => each instanceof HTMLElement);
  }

  /** The load that is looked at. */
  get open() {
    return this.loads.find((each) => each.dataset.load === this.load);
  }

  /** An outline of the open load. @param {string} seat @returns {SVGGElement | null} */
  outline(seat) {
    return this.open?.querySelector(`.parked[data-seat="${CSS.escape(seat)}"]`) ?? null;
  }

  /** Seats of the open load in launch order, as the table lists them. @returns {string[]} */
  get seats() {
    return [...(this.open?.querySelectorAll("[data-row]") ?? [])].map((each) => each.getAttribute("data-row") ?? "");
  }

  /** Those of them that stand on the deck. */
  get placed() {
    return this.seats.filter((seat) => this.outline(seat));
  }

  /** What the table says of a seat. @param {string} seat @returns {DOMStringMap} */
  row(seat) {
    const found = this.open?.querySelector(`[data-row="${CSS.escape(seat)}"]`);
    return found instanceof HTMLElement ? found.dataset : {};
  }

  /** Remembers who has the keyboard, since the sheet is about to be drawn anew. */
  leaving() {
    this.held = document.activeElement ? seatOf(document.activeElement) : "";
  }

  /** The sheet was drawn anew. @param {boolean} current whether it is of the text as it now stands */
  shown(current) {
    const solved = current && !this.writing;
    const loads = this.loads;
    part("deck-tools").hidden = part("deck-key").hidden = loads.length === 0;
    const choice = part("deck-loads");
    const names = loads.map((each) => each.dataset.load).join("\n");
    if (choice.dataset.names !== names) {
      choice.dataset.names = names;
      choice.querySelectorAll("label").forEach((each) => each.remove());
      choice.append(...loads.map(choiceOf));
      choice.hidden = loads.length < 2;
    }
    this.look(loads.some((each) => each.dataset.load === this.load) ? this.load : loads[0]?.dataset.load ?? "");
    this.moves.drawnAnew(solved);
    if (this.held) this.outline(this.held)?.focus({ preventScroll: true });
    if (!solved || !this.awaited) return;
    this.say(`${this.row(this.awaited).told}.`);
    this.awaited = "";
  }

  /** The text could not be solved: what was moved goes back to where it stands in the drawing. */
  unsolved() {
    if (!this.awaited) return;
    this.awaited = "";
    this.moves.putBack();
    this.say("The plan cannot be solved with that: see what is said of its lines.");
  }

  /** @param {string} load */
  look(load) {
    this.load = load;
    for (const each of this.loads) each.hidden = each.dataset.load !== load;
    for (const each of part("deck-loads").querySelectorAll("input")) each.checked = each.value === load;
    if (!this.outline(this.seat)) this.seat = this.placed[0] ?? this.seats[0] ?? "";
    this.choose(this.seat);
  }

  /** The chosen outline is the only one at which the tab key stops. @param {string} seat */
  choose(seat) {
    if (!seat) return;
    this.seat = seat;
    for (const each of this.sheet.querySelectorAll(".parked")) {
      const chosen = each.getAttribute("data-seat") === seat;
      each.classList.toggle("chosen", chosen);
      each.setAttribute("tabindex", chosen ? "0" : "-1");
    }
    for (const each of this.sheet.querySelectorAll("[data-row]")) {
      each.classList.toggle("chosen", each.getAttribute("data-row") === seat);
    }
    this.tell();
  }

  /** Says who is chosen, and where it is being moved to. @param {Place | null} place [ft] */
  tell(place = null) {
    const { called, told } = this.row(this.seat);
    part("deck-chosen").textContent = place ? `${called}: ${inWords(place)}` : told ?? "";
  }

  /** @param {string} sentence */
  say(sentence) {
    part("deck-said").textContent = sentence;
  }

  /** Pins the chosen one. @param {Place} place [ft] */
  pin({ ahead, port }) {
    const { event = "", side = "" } = this.row(this.seat);
    void this.write([{ event, side, ahead, port }], this.seat, "It stands there already.");
  }

  pinHere() {
    const place = this.moves.standing(this.seat, 10); // packed ones stand closer than whole feet can say
    if (place) this.pin(place);
    else this.say(`${this.row(this.seat).called} finds no place on the deck.`);
  }

  free() {
    const { event = "", side = "", called } = this.row(this.seat);
    void this.write([{ event, side }], this.seat, `${called} is not pinned.`);
  }

  pack() {
    const { seats } = this;
    const pins = seats.map((seat) => this.row(seat)).map(({ event = "", side = "" }) => ({ event, side }));
    if (pins.length) void this.write(pins, seats[0], "Nobody of this load is pinned.");
  }

  /** @param {Pin[]} pins @param {string} seat whose new place is to be told @param {string} same said where nothing changes */
  async write(pins, seat, same) {
    this.awaited = seat;
    this.writing++;
    const wrong = await this.told.pin(pins);
    this.writing--;
    if (!wrong) return;
    this.awaited = "";
    this.moves.putBack();
    this.say(wrong === "same" ? same : wrong);
  }

  /** Undo and redo of the text, while an outline has the keyboard. @param {KeyboardEvent} event */
  undone(event) {
    const key = event.key.toLowerCase();
    if (!(event.ctrlKey || event.metaKey) || event.altKey || (key !== "z" && key !== "y")) return;
    event.preventDefault();
    this.moves.putBack();
    this.awaited = this.seat;
    this.told.undo(key === "y" || event.shiftKey);
  }
}

/** The seat of an outline or of what lies in it. @param {EventTarget | null} target */
export const seatOf = (target) =>
  (target instanceof Element && target.closest(".parked")?.getAttribute("data-seat")) || "";

/** One load to choose. @param {HTMLElement} load */
function choiceOf(load) {
  const label = document.createElement("label");
  const input = document.createElement("input");
  input.type = "radio";
  input.name = "deck-load";
  input.value = load.dataset.load ?? "";
  label.append(input, ` ${load.dataset.called}`);
  return label;
}
