// The text of the plan, and its lines numbered and marked beside it.

export class Paper {
  /** @param {HTMLTextAreaElement} area @param {HTMLElement} gutter */
  constructor(area, gutter) {
    this.area = area;
    this.gutter = gutter;
    /** @type {Map<number, string>} */
    this.marks = new Map();
    area.addEventListener("scroll", () => { gutter.scrollTop = area.scrollTop; });
  }

  get text() {
    return this.area.value;
  }

  set text(text) {
    this.area.value = text;
    this.number();
  }

  /** Changes the text as typing would, so that undo takes it back; the keyboard stays where it was. @param {string} text */
  write(text) {
    const old = this.text;
    let start = 0;
    while (start < old.length && old[start] === text[start]) start++;
    let end = 0;
    while (end < Math.min(old.length, text.length) - start && old.at(-1 - end) === text.at(-1 - end)) end++;
    const put = text.slice(start, text.length - end);
    this.within(() => {
      this.area.setSelectionRange(start, old.length - end);
      document.execCommand(put ? "insertText" : "delete", false, put);
    });
    if (this.text !== text) { // a browser without that command: the change then cannot be undone
      this.area.value = text;
      this.area.dispatchEvent(new Event("input"));
    }
  }

  /** Undo, or once more what was undone, while the keyboard is elsewhere. @param {boolean} again */
  undo(again) {
    this.within(() => document.execCommand(again ? "redo" : "undo"));
  }

  /** Does something with the keyboard in the text, and gives it back; the page does not scroll. @param {() => void} work */
  within(work) {
    const held = document.activeElement;
    const { scrollX, scrollY } = window;
    this.area.focus({ preventScroll: true });
    work();
    if (held instanceof HTMLElement || held instanceof SVGElement) held.focus({ preventScroll: true });
    window.scrollTo(scrollX, scrollY);
  }

  /** Marks by line. @param {Map<number, string>} marks */
  mark(marks) {
    this.marks = marks;
    this.number();
  }

  number() {
    const count = this.area.value.split("\n").length;
    const rows = [];
    for (let line = 1; line <= count; line++) {
      const mark = this.marks.get(line);
      if (mark) {
        const strong = document.createElement("b");
        strong.textContent = `${mark} ${line}\n`;
        rows.push(strong);
      } else {
        rows.push(`${line}\n`);
      }
    }
    this.gutter.replaceChildren(...rows, "\n\n\n");
    this.gutter.scrollTop = this.area.scrollTop;
  }

  /** Puts the caret on a line and brings it into sight. @param {number} line */
  goTo(line) {
    const lines = this.area.value.split("\n");
    const start = lines.slice(0, line - 1).reduce((sum, each) => sum + each.length + 1, 0);
    this.area.focus();
    this.area.setSelectionRange(start, start + (lines[line - 1] ?? "").length);
    const row = parseFloat(getComputedStyle(this.area).lineHeight);
    this.area.scrollTop = Math.max(0, (line - 1) * row - this.area.clientHeight / 2);
    this.area.scrollLeft = 0;
  }
}
